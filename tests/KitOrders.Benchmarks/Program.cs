using System.Diagnostics;
using KitOrders.Benchmarks;

if (Asked.Read(args) is not { } asked)
{
    Console.Error.WriteLine(Asked.Help);
    return 2;
}

var (size, pace) = asked.Quick ? (Size.Quick, Pace.Quick) : (Size.Full, Pace.Full);
var report = new Report();
var clock = Stopwatch.StartNew();
await using (var machine = await Machine.Start(asked.Keep))
{
    var database = await machine.Filled(size);
    report.Say($"{size.Parts:N0} parts of {Size.LotsPerPart} lots, {size.Orders:N0} orders, {size.Movements:N0} movements; {Environment.ProcessorCount} cores. Filled after {clock.Elapsed:m\\:ss}.");
    await using var product = await Product.On(machine.App(database));
    await Measured.Truth(report, "after the fill", product);
    var orders = new OpenOrders(machine, database, size, pace);
    if (asked.Only.Contains("open"))
    {
        await Measured.Open(report, orders, product, asked.Clients);
    }

    if (asked.Only.Contains("open") && !asked.Quick)
    {
        await Measured.Growth(report, machine, orders, product, pace);
    }

    var calls = new PickAndReceive(machine, database, size, orders);
    if (asked.Only.Contains("pick"))
    {
        Measured.Call(report, await calls.Pick());
    }

    if (asked.Only.Contains("receive"))
    {
        Measured.Call(report, await calls.Receive());
    }

    await Measured.Truth(report, "at the end", product);
    report.Targets();
    report.Say($"It took {clock.Elapsed:m\\:ss}.");
}

if (asked.Out is { } file)
{
    report.Write(file);
}

return report.AllReached ? 0 : 1;

using KitOrders.Benchmarks;

if (Asked.Read(args) is not { } asked)
{
    Console.Error.WriteLine(Asked.Help);
    return 2;
}

var report = new Report();
try
{
    await Measured.All(report, asked);
}
#pragma warning disable CA1031 // Whatever went wrong, the server has been stopped by now; a crash would have left it running.
catch (Exception e)
#pragma warning restore CA1031
{
    Console.Error.WriteLine(e);
    return 3;
}

if (asked.Out is { } file)
{
    report.Write(file);
}

return report.AllReached ? 0 : 1;

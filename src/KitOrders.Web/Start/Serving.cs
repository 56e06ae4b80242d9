using KitOrders.Rules;
using KitOrders.Storage;
using Microsoft.AspNetCore.Connections;

namespace KitOrders.Web.Start;

/// <summary>What is served, so that the life of the app need not know it.</summary>
/// <param name="Schema">Asked for only when a database is to be made ready.</param>
/// <param name="Add">Registers services.</param>
/// <param name="Map">
/// Maps what is served, loads what belongs into an empty database, and answers how to sign in; {address} in the answer
/// stands for the address people reach the app at.
/// </param>
/// <param name="Refuse">Says why the app must not start with this configuration, or null.</param>
sealed record Served(
    Func<IConfiguration, Refusal?> Refuse,
    Func<Schema> Schema,
    Action<WebApplicationBuilder, Database> Add,
    Action<WebApplication> Map,
    Func<WebApplication, Arguments, CancellationToken, Task<string>> Fill);

/// <summary>The life of the app from the command line to the stop.</summary>
static class Serving
{
    const int Failed = 1;
    const int WrongArguments = 2;

    /// <summary>Answers the exit code.</summary>
    public static async Task<int> Run(string[] args, Served served)
    {
        var parsed = Arguments.Parse(args);
        if (!parsed.IsDone)
        {
            return Say(parsed.Refusal!, WrongArguments);
        }

        var arguments = parsed.Value;
        if (arguments.Help)
        {
            Console.WriteLine(Arguments.Usage);
            return 0;
        }

        using var signals = new Signals();
        var builder = Hosting.Builder();
        var options = Options(arguments, builder.Configuration);
        var urls = Addresses.Choose(arguments, builder.Configuration);
        builder.WebHost.UseUrls(urls);
        if (!arguments.Migrate && Addresses.CheckFree(urls) is { } taken)
        {
            return Say(Storage.Start.HeldByAnother(options) ?? taken, Failed);
        }

        if (served.Refuse(builder.Configuration) is { } refused)
        {
            return Say(refused, Failed);
        }

        using var logging = LoggerFactory.Create(l => l.AddConfiguration(builder.Configuration.GetSection("Logging")).AddConsole());
        try
        {
            var ready = await Storage.Start.Ready(options, served.Schema(), logging.CreateLogger("KitOrders.Start"), signals.Stop);
            if (!ready.IsDone)
            {
                return Say(ready.Refusal!, Failed);
            }

            await using var database = ready.Value;
            if (database.SetAside is { } aside)
            {
                Console.WriteLine($"The earlier database was set aside in {aside}");
            }

            return arguments.Migrate ? Migrated() : await Serve(builder, arguments, options.DataFolder, database, served, signals.Stop);
        }
        catch (OperationCanceledException) when (signals.Stop.IsCancellationRequested)
        {
            return 0;
        }
    }

    static async Task<int> Serve(
        WebApplicationBuilder builder, Arguments arguments, string dataFolder, Database database, Served served, CancellationToken stop)
    {
        builder.Services.AddSingleton(database);
        builder.AddKeys(dataFolder);
        served.Add(builder, database);
        // Disposed of before the database stops, and with it every data source that was registered.
        await using var app = builder.Build();
        var filled = new TaskCompletionSource();
        app.MapHealth(database, () => filled.Task.IsCompleted);
        served.Map(app);
        try
        {
            await app.StartAsync(stop);
        }
        catch (IOException e) when (e.InnerException is AddressInUseException)
        {
            return Say(Addresses.Taken(Addresses.Choose(arguments, builder.Configuration)), Failed);
        }

        await database.Announce(app.Address(), stop);
        var signIn = await served.Fill(app, arguments, stop);
        filled.SetResult();
        Console.WriteLine($"""

            KitOrders is ready: {app.Address()}
            {signIn.Replace("{address}", app.Address(), StringComparison.Ordinal)}
            Ctrl+C stops it.

            """);
        using var asked = stop.Register(() => app.Lifetime.StopApplication());
        await app.WaitForShutdownAsync(CancellationToken.None);
        return 0;
    }

    static StartOptions Options(Arguments arguments, ConfigurationManager configuration) =>
        new(Path.GetFullPath(arguments.Data ?? configuration["KitOrders:Data"] ?? ".data"))
        {
            ConnectionString = configuration.GetConnectionString("KitOrders"),
            OwnerConnectionString = configuration.GetConnectionString("KitOrdersOwner"),
            ProgramsFolder = configuration["KitOrders:PostgresPrograms"],
            Fresh = arguments.Fresh,
            Migrate = arguments.Migrate,
        };

    static int Migrated()
    {
        Console.WriteLine("The database is up to date.");
        return 0;
    }

    static int Say(Refusal refusal, int exitCode)
    {
        Console.Error.WriteLine(refusal.Sentence);
        return exitCode;
    }
}

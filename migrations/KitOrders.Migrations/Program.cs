using KitOrders.Migrations;

// Applies the migrations to an outside database: the one program that needs to own its tables.
var connectionString = args.Length == 1 ? args[0] : Environment.GetEnvironmentVariable("ConnectionStrings__KitOrders");
if (string.IsNullOrWhiteSpace(connectionString))
{
    Console.Error.WriteLine("Give the connection string of the database's owner, as the one argument or in ConnectionStrings__KitOrders.");
    return 2;
}
var missing = await Migrate.Missing(connectionString, CancellationToken.None);
await Migrate.Apply(connectionString, CancellationToken.None);
Console.WriteLine(missing.Count == 0 ? "The database is up to date." : $"Applied {missing.Count}: {string.Join(", ", missing)}.");
return 0;

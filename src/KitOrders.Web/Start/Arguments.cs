using System.Globalization;
using KitOrders.Rules;

namespace KitOrders.Web.Start;

/// <summary>What was asked for on the command line. Everything else is configuration.</summary>
sealed record Arguments
{
    public const string Usage = """
        Usage: ./run [options]

          --port N      listen on http://localhost:N (5080 unless given)
          --urls URLS   listen on these addresses instead, separated by ';'
                        (http://0.0.0.0:5080 lets other machines in; put TLS in front of it)
          --data DIR    keep the private database and the sign-in keys in DIR (.data unless given)
          --fresh       begin with a new, empty private database; the old one is set aside, never deleted
          --no-demo     do not load the demo plant into an empty database
          --migrate     bring the database in ConnectionStrings__KitOrders up to date and end
          --help        this text

        Environment:
          ConnectionStrings__KitOrders       use this PostgreSQL database and start no private one
          ConnectionStrings__KitOrdersOwner  the role that owns its tables, for --migrate
          KitOrders__Data                    the same as --data
          KitOrders__PostgresPrograms        the folder of PostgreSQL's server programs, where they are not found

        Ctrl+C stops the app and its private database.
        """;

    public bool Help { get; init; }

    public bool Fresh { get; init; }

    public bool NoDemo { get; init; }

    public bool Migrate { get; init; }

    /// <summary>Addresses to listen on, as given or made from the port; null leaves them to the configuration.</summary>
    public string? Urls { get; init; }

    public string? Data { get; init; }

    public static Outcome<Arguments> Parse(IReadOnlyList<string> args)
    {
        var read = new Arguments();
        for (var i = 0; i < args.Count; i++)
        {
            var (name, value) = Split(args[i]);
            if (name is "--port" or "--urls" or "--data")
            {
                value ??= i + 1 < args.Count ? args[++i] : "";
                if (value.Length == 0)
                {
                    return No($"{name} needs a value.");
                }
            }
            else if (value is not null)
            {
                return No($"{name} takes no value.");
            }

            switch (name)
            {
                case "--help" or "-h": read = read with { Help = true }; break;
                case "--fresh": read = read with { Fresh = true }; break;
                case "--no-demo": read = read with { NoDemo = true }; break;
                case "--migrate": read = read with { Migrate = true }; break;
                case "--data": read = read with { Data = value }; break;
                case "--urls" or "--port" when read.Urls is not null: return No("Give --port or --urls, and only once.");
                case "--urls": read = read with { Urls = value }; break;
                case "--port" when ushort.TryParse(value, NumberStyles.None, CultureInfo.InvariantCulture, out var port):
                    read = read with { Urls = $"http://localhost:{port}" };
                    break;
                case "--port": return No($"--port takes a number from 0 to 65535, not \"{value}\".");
                default: return No($"There is no option \"{args[i]}\".");
            }
        }

        return read;
    }

    static (string Name, string? Value) Split(string arg)
    {
        var at = arg.StartsWith("--", StringComparison.Ordinal) ? arg.IndexOf('=', StringComparison.Ordinal) : -1;
        return at < 0 ? (arg, null) : (arg[..at], arg[(at + 1)..]);
    }

    static Refusal No(string sentence) => Refusal.Invalid("arguments", sentence + " ./run --help lists the options.");
}

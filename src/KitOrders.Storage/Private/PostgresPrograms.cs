using System.Globalization;
using KitOrders.Rules;

namespace KitOrders.Storage.Private;

/// <summary>A folder with PostgreSQL's server programs, all of one major version.</summary>
sealed record PostgresPrograms(string Folder, int Major)
{
    /// <summary>Older servers lack what the schema uses and are no longer cared for by their makers.</summary>
    public const int Oldest = 15;

    static readonly string[] Needed = ["initdb", "pg_ctl", "postgres", "pg_dump", "pg_restore"];

    public string InitDb => Path.Combine(Folder, "initdb");

    public string PgCtl => Path.Combine(Folder, "pg_ctl");

    /// <summary>
    /// Finds the programs: the configured folder if one is given, else where Debian, Ubuntu and others put them, else on
    /// PATH. Packaged folders come first because a folder on PATH may hold only some of the programs. Existing data wants
    /// its own major version; a new cluster takes the newest.
    /// </summary>
    public static async Task<Outcome<PostgresPrograms>> Find(string? configured, int? majorOfData, CancellationToken cancel)
    {
        var found = new List<PostgresPrograms>();
        foreach (var folder in configured is null ? PackagedFolders().Concat(PathFolders()) : [configured])
        {
            if (Needed.All(program => File.Exists(Path.Combine(folder, program))) && await MajorOf(folder, cancel) is { } major)
            {
                found.Add(new PostgresPrograms(folder, major));
            }
        }

        var best = found.Where(p => majorOfData is null ? p.Major >= Oldest : p.Major == majorOfData).MaxBy(p => p.Major);
        return best is not null ? best : Missing(configured, majorOfData, found);
    }

    static Refusal Missing(string? configured, int? majorOfData, List<PostgresPrograms> found)
    {
        var seen = found.Count == 0 ? "none" : string.Join(", ", found.Select(p => $"version {p.Major} in {p.Folder}"));
        return (configured, majorOfData) switch
        {
            (_, { } major) => Refusal.Conflict("postgres-version",
                $"The data was made by PostgreSQL {major}, and its server programs are not on this machine (found: {seen}). " +
                $"Install them (Debian, Ubuntu: apt-get install postgresql-{major}), or start with --fresh, which sets the data aside."),
            ({ } folder, _) => Refusal.Conflict("postgres-missing",
                $"{folder} does not hold the server programs of PostgreSQL {Oldest} or newer ({string.Join(", ", Needed)}). " +
                "Correct KitOrders__PostgresPrograms or leave it out."),
            _ => Refusal.Conflict("postgres-missing",
                $"PostgreSQL {Oldest} or newer is not installed (found: {seen}). Install it (Debian, Ubuntu: apt-get install postgresql), " +
                "name its folder in KitOrders__PostgresPrograms, or name a database of your own in ConnectionStrings__KitOrders."),
        };
    }

    static IEnumerable<string> PackagedFolders() =>
        new[] { ("/usr/lib/postgresql", "*", "bin"), ("/usr", "pgsql-*", "bin"), ("/usr/local", "pgsql", "bin") }
            .Where(place => Directory.Exists(place.Item1))
            .SelectMany(place => Directory.EnumerateDirectories(place.Item1, place.Item2).Select(d => Path.Combine(d, place.Item3)));

    static IEnumerable<string> PathFolders() =>
        (Environment.GetEnvironmentVariable("PATH") ?? "").Split(':', StringSplitOptions.RemoveEmptyEntries).Where(Path.IsPathRooted);

    // "postgres (PostgreSQL) 15.18 (Debian 15.18-0+deb12u1)"
    static async Task<int?> MajorOf(string folder, CancellationToken cancel)
    {
        var ran = await Command.Run(Path.Combine(folder, "postgres"), ["--version"], null, cancel);
        var digits = ran.Output.SkipWhile(c => c != ')').SkipWhile(c => !char.IsAsciiDigit(c)).TakeWhile(char.IsAsciiDigit);
        return int.TryParse(string.Concat(digits), NumberStyles.None, CultureInfo.InvariantCulture, out var major) ? major : null;
    }
}

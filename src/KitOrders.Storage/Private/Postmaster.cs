using System.Globalization;
using Npgsql;

namespace KitOrders.Storage.Private;

enum PostmasterState
{
    Silent,
    Starting,
    Answering,
}

/// <summary>The server process that the data folder names, judged by what the machine says about it now.</summary>
sealed record Postmaster(int Id, string SocketFolder)
{
    /// <summary>What the data folder says; nothing when no server was left running.</summary>
    public static Postmaster? Read(string data)
    {
        // process, data folder, start time, port, socket folder, ...
        var file = Path.Combine(data, "postmaster.pid");
        var lines = File.Exists(file) ? File.ReadAllLines(file) : [];
        return lines.Length >= 5 && int.TryParse(lines[0], NumberStyles.None, CultureInfo.InvariantCulture, out var id)
            ? new Postmaster(id, lines[4].Trim())
            : null;
    }

    /// <summary>A killed process that nobody has collected yet still has its number, but is dead.</summary>
    public bool IsZombie => Stat() is { State: 'Z' };

    /// <summary>Another program may have been given the number of a server that is gone.</summary>
    public bool IsAlive(string data)
    {
        if (Stat() is not { Name: "postgres", State: not ('Z' or 'X') })
        {
            return false;
        }

        try
        {
            if (new FileInfo($"/proc/{Id}/cwd").LinkTarget is { } cwd)
            {
                return cwd == data;
            }
        }
        catch (Exception e) when (e is UnauthorizedAccessException or IOException)
        {
            // Root without the right to trace, as in most containers: the command line is open to all.
        }

        try
        {
            return File.ReadAllText($"/proc/{Id}/cmdline").Split('\0').Contains(data);
        }
        catch (Exception e) when (e is UnauthorizedAccessException or IOException)
        {
            return false;
        }
    }

    /// <summary>Whether it takes connections; a server that still recovers says so.</summary>
    public static async Task<PostmasterState> Ask(string connectionString, CancellationToken cancel)
    {
        try
        {
            await using var connection = new NpgsqlConnection(connectionString);
            await connection.OpenAsync(cancel);
            return PostmasterState.Answering;
        }
        catch (PostgresException e)
        {
            return e.SqlState == PostgresErrorCodes.CannotConnectNow ? PostmasterState.Starting : PostmasterState.Answering;
        }
        catch (NpgsqlException)
        {
            return PostmasterState.Silent;
        }
    }

    (string Name, char State)? Stat()
    {
        try
        {
            // "1234 (postgres) S 1 ..."
            var text = File.ReadAllText($"/proc/{Id}/stat");
            var close = text.LastIndexOf(')');
            return (text[(text.IndexOf('(', StringComparison.Ordinal) + 1)..close], text[close + 2]);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }
}

using System.Security.Cryptography;
using KitOrders.Rules;
using Npgsql;

namespace KitOrders.Storage.Private;

/// <summary>
/// A PostgreSQL server of the app's own. It is started apart from the app, so it outlives a killed app and is found again;
/// it is reached through a socket in a folder that only its account and root can enter, so there is no port and no password.
/// One app at a time holds it, by a lock that the kernel frees when the app dies.
/// </summary>
sealed class PrivateCluster : IAsyncDisposable
{
    /// <summary>The superuser that owns everything: migrations and backup. Not the machine account.</summary>
    public const string OwnerRole = "kitorders_owner";

    const int SocketPathLimit = 107;
    const int Port = 5432;
    static readonly string SocketName = $".s.PGSQL.{Port}";

    readonly ClusterSettings settings;
    readonly ClusterHome home;
    readonly FileStream held;
    PostgresPrograms? programs;
    string socketFolder;

    PrivateCluster(ClusterSettings settings, ClusterHome home, FileStream held)
    {
        this.settings = settings;
        this.home = home;
        this.held = held;
        socketFolder = home.Folder;
    }

    public ClusterHome Home => home;

    /// <summary>Whether the server process lives; costs a look at two small files.</summary>
    public bool IsAlive => Postmaster.Read(home.Data)?.IsAlive(home.Data) ?? false;

    /// <summary>The server programs in use; known after <see cref="Start"/>.</summary>
    public PostgresPrograms Programs => programs ?? throw new InvalidOperationException("The cluster was not started.");

    /// <summary>Takes hold of the data folder's cluster without starting it; refused while another app holds it.</summary>
    public static async Task<Outcome<PrivateCluster>> Hold(ClusterSettings settings, CancellationToken cancel)
    {
        var folder = settings with { DataFolder = Path.GetFullPath(settings.DataFolder) };
        var home = await ClusterHome.Prepare(folder.DataFolder, settings.Accounts, cancel);
        if (!home.IsDone)
        {
            return home.Refusal!;
        }

        try
        {
            var held = new FileStream(home.Value.Lock, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
            File.Delete(home.Value.Address);
            return new PrivateCluster(folder, home.Value, held);
        }
        catch (IOException)
        {
            return Held(home.Value.Folder, folder.DataFolder);
        }
    }

    /// <summary>The refusal a second app on this data folder would get, or null when nobody holds it.</summary>
    public static Refusal? HeldByAnother(string dataFolder)
    {
        var folder = ClusterHome.Find(Path.GetFullPath(dataFolder));
        var file = Path.Combine(folder, "app.lock");
        try
        {
            using var free = File.Exists(file) ? new FileStream(file, FileMode.Open, FileAccess.ReadWrite, FileShare.None) : null;
            return null;
        }
        catch (UnauthorizedAccessException)
        {
            return null;
        }
        catch (IOException)
        {
            return Held(folder, dataFolder);
        }
    }

    /// <summary>Starts the server, or finds the one that a killed app left running. Makes the cluster at the first start.</summary>
    public async Task<Outcome<Done>> Start(CancellationToken cancel)
    {
        var found = await PostgresPrograms.Find(settings.ProgramsFolder, home.MajorOfData, cancel);
        if (!found.IsDone)
        {
            return found.Refusal!;
        }

        programs = found.Value;
        if (home.MajorOfData is null && await Make(cancel) is { } failed)
        {
            return failed;
        }

        if (await FindRunning(cancel))
        {
            return Done.Value;
        }

        // The dead server's own processes may need a moment to notice and let go of its memory.
        for (var attempt = 1; ; attempt++)
        {
            var ran = await StartServer(cancel);
            if (ran.Succeeded)
            {
                return Done.Value;
            }

            var log = LastLines(home.Log);
            if (attempt == 60 || !log.Contains("is still in use", StringComparison.Ordinal))
            {
                return Refusal.Conflict("postgres-start", $"PostgreSQL did not start. Its log, {home.Log}, ends with:\n{log}\n{ran.Output}");
            }

            await Task.Delay(TimeSpan.FromMilliseconds(500), cancel);
        }
    }

    /// <summary>Moves the data out of the way and keeps it. Answers where it is now, or null when there was none.</summary>
    public async Task<string?> SetAside(CancellationToken cancel)
    {
        if (home.MajorOfData is null)
        {
            return null;
        }

        var found = await PostgresPrograms.Find(settings.ProgramsFolder, home.MajorOfData, cancel);
        programs = found.IsDone ? found.Value : null;
        if (programs is not null && await FindRunning(cancel))
        {
            await StopServer();
        }

        var aside = Path.Combine(home.Folder, "set-aside", settings.Clock.GetUtcNow().ToString("yyyy-MM-dd'T'HH-mm-ss.fff'Z'", null));
        Directory.CreateDirectory(Path.GetDirectoryName(aside)!);
        Directory.Move(home.Data, aside);
        return aside;
    }

    /// <summary>For one role and one database of the server.</summary>
    public string ConnectionString(string role, string database) => new NpgsqlConnectionStringBuilder
    {
        Host = socketFolder,
        Port = Port,
        Username = role,
        Database = database,
        ApplicationName = "KitOrders",
        // Some machines lack the Kerberos library, and a local socket has no use for it.
        GssEncryptionMode = GssEncryptionMode.Disable,
    }.ConnectionString;

    /// <summary>Tells a second app where this one can be found.</summary>
    public Task Announce(string address, CancellationToken cancel) => File.WriteAllTextAsync(home.Address, address, cancel);

    /// <summary>Stops the server and lets go of it.</summary>
    public async Task Stop()
    {
        if (programs is not null && IsAlive)
        {
            await StopServer();
        }

        await DisposeAsync();
    }

    /// <summary>Lets go without stopping the server.</summary>
    public async ValueTask DisposeAsync()
    {
        if (held.CanWrite)
        {
            File.Delete(home.Address);
        }

        await held.DisposeAsync();
    }

    static Refusal Held(string home, string dataFolder)
    {
        var file = Path.Combine(home, "app.address");
        var address = File.Exists(file) ? File.ReadAllText(file).Trim() : "";
        return Refusal.Conflict("already-running",
            $"KitOrders already {(address.Length > 0 ? $"runs on this data at {address}" : "starts on this data")} ({dataFolder}). " +
            "Use that one, stop it first, or choose another folder with --data.");
    }

    async Task<Refusal?> Make(CancellationToken cancel)
    {
        // Made beside and moved into place whole, so that an interrupted start never looks finished.
        var making = home.Data + ".new";
        if (Directory.Exists(making))
        {
            Directory.Delete(making, recursive: true);
        }

        var ran = await Command.Run(Programs.InitDb,
            ["-D", making, "-U", OwnerRole, "-E", "UTF8", "--locale=C.UTF-8", "--data-checksums", "--auth-local=trust", "--auth-host=reject",
                .. settings.Durable ? Array.Empty<string>() : ["--no-sync"]],
            home.Account, cancel);
        if (!ran.Succeeded)
        {
            return Refusal.Conflict("postgres-init", $"PostgreSQL could not make a database in {home.Folder}:\n{ran.Output}");
        }

        await File.AppendAllTextAsync(Path.Combine(making, "postgresql.conf"), settings.ServerConfiguration, cancel);
        Directory.Move(making, home.Data);
        return null;
    }

    async Task<bool> FindRunning(CancellationToken cancel)
    {
        if (Postmaster.Read(home.Data) is not { } server)
        {
            return false;
        }

        // Until the machine's first process has collected a killed server, its number looks taken.
        for (var waited = 0; server.IsZombie && waited < 30; waited++)
        {
            await Task.Delay(TimeSpan.FromMilliseconds(100), cancel);
        }

        socketFolder = server.SocketFolder;
        for (var silent = 0; server.IsAlive(home.Data);)
        {
            var state = await Postmaster.Ask(OwnerProbe, cancel);
            if (state == PostmasterState.Answering)
            {
                return true;
            }

            // Alive but out of reach: its socket was cleared away or the folder was moved. Recovery may take its time.
            silent = state == PostmasterState.Silent ? silent + 1 : 0;
            if (silent == 100)
            {
                await StopServer();
                return false;
            }

            await Task.Delay(TimeSpan.FromMilliseconds(100), cancel);
        }

        // A number that now belongs to something else would keep the server from starting. Should processes of the dead
        // server still live, its shared memory is in use and PostgreSQL refuses to start by that.
        File.Delete(Path.Combine(home.Data, "postmaster.pid"));
        File.Delete(Path.Combine(socketFolder, SocketName));
        File.Delete(Path.Combine(socketFolder, SocketName + ".lock"));
        return false;
    }

    async Task<Ran> StartServer(CancellationToken cancel)
    {
        socketFolder = await SocketFolder(cancel);
        if (new FileInfo(home.Log) is { Exists: true, Length: > 5_000_000 })
        {
            File.Move(home.Log, home.Log + ".1", overwrite: true);
        }

        return await Command.Run(Programs.PgCtl, ["start", "-w", "-t", "300", "-D", home.Data, "-l", home.Log, "-o", $"-k '{socketFolder}'"], home.Account, cancel);
    }

    async Task StopServer()
    {
        var ran = await Command.Run(Programs.PgCtl, ["stop", "-w", "-t", "60", "-m", "fast", "-D", home.Data], home.Account);
        if (!ran.Succeeded && IsAlive)
        {
            throw new IOException($"PostgreSQL did not stop: {ran.Output}");
        }

        if (socketFolder != home.Folder && Directory.Exists(socketFolder))
        {
            Directory.Delete(socketFolder, recursive: true);
        }
    }

    /// <summary>The home, or a new closed folder with an unguessable name where the home's path is too long for a socket.</summary>
    async Task<string> SocketFolder(CancellationToken cancel)
    {
        var inHome = System.Text.Encoding.UTF8.GetByteCount(Path.Combine(home.Folder, SocketName + ".lock")) <= SocketPathLimit;
        // The driver takes a comma for a list of hosts and a colon for a port.
        if (inHome && home.Folder.IndexOfAny([',', ':']) < 0)
        {
            return home.Folder;
        }

        // Connection strings already given out keep naming the folder of the first start.
        if (socketFolder != home.Folder && Directory.Exists(socketFolder) &&
            (await Account.OwnerOf(socketFolder, cancel)).Name == home.Account.Name)
        {
            return socketFolder;
        }

        // A socket's path has at most 107 bytes, and the temporary folder of the environment may be as deep as the data folder.
        var folder = "/tmp/kitorders-" + Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(12));
        Directory.CreateDirectory(folder, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        await home.Account.Take(folder, cancel);
        return folder;
    }

    string OwnerProbe =>
        new NpgsqlConnectionStringBuilder(ConnectionString(OwnerRole, "postgres")) { Pooling = false, Timeout = 5 }.ConnectionString;

    static string LastLines(string file) => File.Exists(file) ? string.Join('\n', File.ReadLines(file).TakeLast(8)) : "(no log)";
}

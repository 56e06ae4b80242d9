using System.Security.Cryptography;
using System.Text;
using KitOrders.Rules;

namespace KitOrders.Storage.Private;

/// <summary>
/// The folder that holds the private server's data, log, socket and locks, and the account it belongs to. It stands in the
/// data folder; where root's chosen account cannot get there (a clone under a closed home), it stands in
/// /var/lib/kitorders and the data folder keeps a note of it.
/// </summary>
sealed record ClusterHome(string Folder, Account Account)
{
    const UnixFileMode Closed = UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute;
    const UnixFileMode Passable = Closed | UnixFileMode.GroupRead | UnixFileMode.GroupExecute | UnixFileMode.OtherRead | UnixFileMode.OtherExecute;

    public string Data => Path.Combine(Folder, "data");

    public string Log => Path.Combine(Folder, "server.log");

    public string Lock => Path.Combine(Folder, "app.lock");

    public string Address => Path.Combine(Folder, "app.address");

    public int? MajorOfData =>
        File.Exists(Path.Combine(Data, "PG_VERSION")) ? int.Parse(File.ReadAllText(Path.Combine(Data, "PG_VERSION")).Trim(), null) : null;

    /// <summary>Where the home of a data folder is or would be, without making anything.</summary>
    public static string Find(string dataFolder) =>
        File.Exists(NoteOf(dataFolder)) ? File.ReadAllText(NoteOf(dataFolder)).Trim() : Path.Combine(dataFolder, "postgres");

    public static async Task<Outcome<ClusterHome>> Prepare(string dataFolder, IReadOnlyList<string> accounts, CancellationToken cancel)
    {
        var choice = Account.Choose(accounts, Account.Known(), Environment.IsPrivilegedProcess);
        if (!choice.IsDone)
        {
            return choice.Refusal!;
        }

        if (!Directory.Exists(dataFolder))
        {
            Directory.CreateDirectory(dataFolder, Passable);
        }

        // Without links: the running server is recognised by the folder it really stands in.
        var folder = Find((await Command.Run("realpath", [dataFolder], null, cancel)).Output);
        if (Directory.Exists(folder))
        {
            return await Existing(folder, choice.Value, cancel);
        }

        Directory.CreateDirectory(folder, Closed);
        await choice.Value.Take(folder, cancel);
        if (IsPlain(folder) && await choice.Value.CanWorkIn(folder, cancel))
        {
            return new ClusterHome(folder, choice.Value);
        }

        Directory.Delete(folder);
        return Environment.IsPrivilegedProcess
            ? await Elsewhere(dataFolder, choice.Value, cancel)
            : Refusal.Invalid("data-folder",
                $"The data folder {dataFolder} has characters in its path that PostgreSQL's own programs do not take. Choose another one with --data.");
    }

    static async Task<Outcome<ClusterHome>> Existing(string folder, Account chosen, CancellationToken cancel)
    {
        var owner = await Account.OwnerOf(folder, cancel);
        var account = chosen;
        if (!chosen.IsThisProcess && owner.Id != 0 && Account.Known().Contains(owner.Name))
        {
            account = chosen with { Name = owner.Name };
        }
        else
        {
            await chosen.Take(folder, cancel);
        }

        return await account.CanWorkIn(folder, cancel)
            ? new ClusterHome(folder, account)
            : Refusal.Conflict("data-folder",
                $"The database in {folder} belongs to the account {owner.Name}, and {account.Name} cannot work there. " +
                $"Start KitOrders as root or as {owner.Name}, let {account.Name} pass the folders above it, or choose another folder with --data.");
    }

    static async Task<Outcome<ClusterHome>> Elsewhere(string dataFolder, Account account, CancellationToken cancel)
    {
        const string Parent = "/var/lib/kitorders";
        Directory.CreateDirectory(Parent, Passable);
        var name = Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(dataFolder)))[..12];
        // A folder of this name without a note pointing at it is somebody's set-aside data: never taken over.
        var folder = Enumerable.Range(1, int.MaxValue).Select(n => Path.Combine(Parent, n == 1 ? name : $"{name}-{n}")).First(f => !Directory.Exists(f));
        Directory.CreateDirectory(folder, Closed);
        await account.Take(folder, cancel);
        if (!await account.CanWorkIn(folder, cancel))
        {
            Directory.Delete(folder);
            return Refusal.Conflict("data-folder",
                $"The account {account.Name} can reach neither {dataFolder} nor {Parent}. Choose a folder it can reach with --data.");
        }

        await File.WriteAllTextAsync(NoteOf(dataFolder), folder + "\n", cancel);
        return new ClusterHome(folder, account);
    }

    static string NoteOf(string dataFolder) => Path.Combine(dataFolder, "postgres.location");

    // pg_ctl hands the path to a shell in double quotes.
    static bool IsPlain(string path) => path.IndexOfAny(['"', '\'', '$', '`', '\\', '\n']) < 0;
}

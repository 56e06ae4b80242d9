using System.Globalization;
using KitOrders.Rules;

namespace KitOrders.Storage.Private;

/// <summary>
/// The account the private server runs under. PostgreSQL refuses to run as root, so root lends the work to an account
/// that exists on the machine; everybody else runs it as themselves.
/// </summary>
sealed record Account(string Name, bool IsThisProcess)
{
    /// <summary>Tried in this order when root starts a new cluster.</summary>
    public static readonly IReadOnlyList<string> Usual = ["postgres", "nobody"];

    public static Outcome<Account> Choose(IReadOnlyList<string> candidates, IReadOnlySet<string> known, bool isRoot)
    {
        if (!isRoot)
        {
            return new Account(Environment.UserName, IsThisProcess: true);
        }

        var name = candidates.FirstOrDefault(known.Contains);
        return name is null
            ? Refusal.Conflict("no-account",
                "PostgreSQL does not run as root and this machine has none of the accounts " + string.Join(", ", candidates) +
                ". Create one (useradd --system postgres) or start KitOrders as an ordinary user.")
            : new Account(name, IsThisProcess: false);
    }

    /// <summary>
    /// The names in the machine's account file. initdb looks its own account up there and stops without an entry.
    /// </summary>
    public static IReadOnlySet<string> Known() =>
        File.ReadLines("/etc/passwd").Select(line => line.Split(':')[0]).ToHashSet(StringComparer.Ordinal);

    public static async Task<Owner> OwnerOf(string path, CancellationToken cancel)
    {
        var ran = await Command.Run("stat", ["-c", "%u %U", path], null, cancel);
        var parts = ran.Succeeded ? ran.Output.Split(' ') : throw new IOException(ran.Output);
        return new Owner(uint.Parse(parts[0], CultureInfo.InvariantCulture), parts[1]);
    }

    /// <summary>Hands a folder and all in it to this account; only root needs to and can.</summary>
    public async Task Take(string folder, CancellationToken cancel)
    {
        if (!IsThisProcess)
        {
            var ran = await Command.Run("chown", ["-R", Name + ":", folder], null, cancel);
            if (!ran.Succeeded)
            {
                throw new IOException(ran.Output);
            }
        }
    }

    /// <summary>Whether the account can work in the folder, with every parent and every access list on the way.</summary>
    // By its whole path: a program called by name is looked for in the working folder first, and there may be a ./test.
    public async Task<bool> CanWorkIn(string folder, CancellationToken cancel) =>
        (await Command.Run("/usr/bin/test", ["-w", folder, "-a", "-x", folder], this, cancel)).Succeeded;
}

sealed record Owner(uint Id, string Name);

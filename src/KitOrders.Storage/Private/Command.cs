using System.Diagnostics;

namespace KitOrders.Storage.Private;

/// <summary>What a program answered.</summary>
sealed record Ran(int ExitCode, string Output)
{
    public bool Succeeded => ExitCode == 0;
}

/// <summary>Runs a program of the machine, as this process's account or, when root, as another one.</summary>
static class Command
{
    static readonly string[] SystemFolders = ["/usr/bin", "/bin"];

    public static async Task<Ran> Run(string program, IEnumerable<string> arguments, Account? account = null, CancellationToken cancel = default)
    {
        var start = new ProcessStartInfo(Located(program), arguments)
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            // The account may not be able to stand in the folder this process was started from.
            WorkingDirectory = "/",
        };
        if (account is not null && !account.IsThisProcess)
        {
            start.UserName = account.Name;
        }

        // PGDATA, PGPORT and the like belong to other databases of this machine; messages are read by this program.
        foreach (var name in start.Environment.Keys.Where(n => n.StartsWith("PG", StringComparison.Ordinal)).ToList())
        {
            start.Environment.Remove(name);
        }

        start.Environment["LC_ALL"] = "C.UTF-8";

        using var process = Process.Start(start)!;
        process.StandardInput.Close();
        var output = process.StandardOutput.ReadToEndAsync(cancel);
        var errors = process.StandardError.ReadToEndAsync(cancel);
        await process.WaitForExitAsync(cancel);
        return new Ran(process.ExitCode, (await output + await errors).Trim());
    }

    /// <summary>
    /// A bare name is one of the system's own programs. Left to the runtime it would first be looked for in the folder the
    /// app was started from, where a file of that name may stand.
    /// </summary>
    static string Located(string program) => Path.IsPathRooted(program) ? program
        : SystemFolders.Select(folder => Path.Combine(folder, program)).FirstOrDefault(File.Exists)
            ?? throw new FileNotFoundException($"This machine has no {program} in /usr/bin or /bin.");
}

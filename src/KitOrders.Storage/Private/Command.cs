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
    public static async Task<Ran> Run(string program, IEnumerable<string> arguments, Account? account = null, CancellationToken cancel = default)
    {
        var start = new ProcessStartInfo(program, arguments)
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
}

using System.Diagnostics;
using System.Globalization;
using KitOrders.Storage.Private;
using Npgsql;
using Xunit;

namespace KitOrders.Operations.Tests.Private;

/// <summary>A data folder of a test's own, whose server is stopped and whose files are removed at the end.</summary>
sealed class Sandbox : IAsyncDisposable
{
    public static CancellationToken Cancel => TestContext.Current.CancellationToken;

    readonly List<PrivateCluster> clusters = [];

    public Sandbox(string tail = "data", UnixFileMode mode = (UnixFileMode)0b111_101_101)
    {
        Top = Path.Combine(Path.GetTempPath(), "kitorders-test-" + Guid.NewGuid().ToString("N"));
        Directory.CreateDirectory(Top, mode);
        Data = Path.Combine(Top, tail);
    }

    public string Top { get; }

    public string Data { get; }

    public ClusterSettings Settings => new(Data) { Durable = false };

    public async Task<PrivateCluster> Hold(ClusterSettings? settings = null)
    {
        var cluster = (await PrivateCluster.Hold(settings ?? Settings, Cancel)).Value;
        clusters.Add(cluster);
        return cluster;
    }

    public async Task<PrivateCluster> Start(ClusterSettings? settings = null)
    {
        var cluster = await Hold(settings);
        _ = (await cluster.Start(Cancel)).Value;
        return cluster;
    }

    public static int ServerOf(PrivateCluster cluster) => Postmaster.Read(cluster.Home.Data)!.Id;

    public static void Kill(int process)
    {
        using var gone = Process.GetProcessById(process);
        gone.Kill();
    }

    public static async Task<object?> Ask(PrivateCluster cluster, string question)
    {
        var owner = new NpgsqlConnectionStringBuilder(cluster.ConnectionString(PrivateCluster.OwnerRole, "postgres")) { Pooling = false };
        await using var connection = new NpgsqlConnection(owner.ConnectionString);
        await connection.OpenAsync(Cancel);
        await using var command = connection.CreateCommand();
#pragma warning disable CA2100 // The tests' own constant texts.
        command.CommandText = question;
#pragma warning restore CA2100
        return await command.ExecuteScalarAsync(Cancel);
    }

    public static string UserOf(int process)
    {
        var id = File.ReadLines($"/proc/{process}/status").First(l => l.StartsWith("Uid:", StringComparison.Ordinal)).Split('\t')[1];
        return File.ReadLines("/etc/passwd").Select(l => l.Split(':')).FirstOrDefault(f => f[2] == id)?[0]
            ?? int.Parse(id, CultureInfo.InvariantCulture).ToString(CultureInfo.InvariantCulture);
    }

    public async ValueTask DisposeAsync()
    {
        var homes = clusters.Select(c => c.Home.Folder).Distinct().ToList();
        foreach (var cluster in clusters)
        {
            await cluster.Stop();
        }

        foreach (var folder in homes.Append(Top).Where(Directory.Exists))
        {
            Directory.Delete(folder, recursive: true);
        }
    }
}

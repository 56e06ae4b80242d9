using KitOrders.Storage.Private;
using Xunit;
using static KitOrders.Operations.Tests.Private.Sandbox;

namespace KitOrders.Operations.Tests.Private;

public sealed class PrivateClusterTests
{
    [Fact]
    public async Task A_first_start_makes_a_durable_cluster_that_only_a_closed_folder_leads_to()
    {
        await using var box = new Sandbox();
        var cluster = await box.Start(new ClusterSettings(box.Data));

        Assert.Equal("", await Ask(cluster, "SHOW listen_addresses"));
        Assert.Equal(["on", "on", "on"], new[]
        {
            await Ask(cluster, "SHOW fsync"), await Ask(cluster, "SHOW synchronous_commit"), await Ask(cluster, "SHOW full_page_writes"),
        });
        Assert.Equal("on", await Ask(cluster, "SHOW data_checksums"));
        Assert.Equal("UTF8", await Ask(cluster, "SHOW server_encoding"));
        Assert.Equal("UTC", await Ask(cluster, "SHOW timezone"));
        Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute, File.GetUnixFileMode(cluster.Home.Folder));
        Assert.StartsWith(box.Data, cluster.Home.Folder, StringComparison.Ordinal);
        Assert.NotEqual("root", UserOf(ServerOf(cluster)));
    }

    [Fact]
    public async Task A_server_left_by_a_killed_app_is_found_again_and_not_started_anew()
    {
        await using var box = new Sandbox();
        var first = await box.Start();
        var server = ServerOf(first);
        // What remains of an app after kill -9: its locks are freed by the kernel, its server runs on.
        await first.DisposeAsync();

        var second = await box.Start();

        Assert.Equal(server, ServerOf(second));
        Assert.Equal(1, await Ask(second, "SELECT 1"));
    }

    [Fact]
    public async Task A_killed_server_starts_again_with_every_committed_row()
    {
        await using var box = new Sandbox();
        // Durable: the test is about keeping what was committed.
        var settings = new ClusterSettings(box.Data);
        var first = await box.Start(settings);
        await Ask(first, "CREATE TABLE kept AS SELECT generate_series(1, 1000) AS n");
        var killed = ServerOf(first);
        Kill(killed);
        await first.DisposeAsync();

        var second = await box.Start(settings);

        Assert.NotEqual(killed, ServerOf(second));
        Assert.Equal(1000L, await Ask(second, "SELECT count(*) FROM kept"));
    }

    [Fact]
    public async Task A_killed_server_with_a_process_that_still_works_starts_again_when_that_one_has_let_go()
    {
        await using var box = new Sandbox();
        var first = await box.Start();
        var busy = Ask(first, "SELECT count(*) FROM generate_series(1, 50000000)");
        while (Equals(0L, await Ask(first, "SELECT count(*) FROM pg_stat_activity WHERE query LIKE '%generate_series%' AND pid <> pg_backend_pid()")))
        {
            await Task.Delay(20, Cancel);
        }

        Kill(ServerOf(first));
        await first.DisposeAsync();
        var second = await box.Start();

        // Two servers on the same files would ruin them: the old one's last process is gone before the new one runs.
        await Task.WhenAny(busy, Task.Delay(TimeSpan.FromSeconds(2), Cancel));
        Assert.True(busy.IsCompleted);
        Assert.Equal(1, await Ask(second, "SELECT 1"));
    }

    [Fact]
    public async Task A_pid_file_that_names_somebody_elses_process_does_not_keep_the_server_from_starting()
    {
        await using var box = new Sandbox();
        var first = await box.Start();
        var file = Path.Combine(first.Home.Data, "postmaster.pid");
        var lines = await File.ReadAllLinesAsync(file, Cancel);
        await first.Stop();
        // The test's own process stands for whatever was given the number after a restart of the machine.
        lines[0] = Environment.ProcessId.ToString(System.Globalization.CultureInfo.InvariantCulture);
        await File.WriteAllLinesAsync(file, lines, Cancel);

        var second = await box.Start();

        Assert.NotEqual(Environment.ProcessId, ServerOf(second));
        Assert.Equal(1, await Ask(second, "SELECT 1"));
    }

    [Fact]
    public async Task A_server_whose_socket_was_cleared_away_is_started_again()
    {
        await using var box = new Sandbox();
        var first = await box.Start();
        await first.DisposeAsync();
        File.Delete(Path.Combine(first.Home.Folder, ".s.PGSQL.5432"));

        var second = await box.Start();

        Assert.Equal(1, await Ask(second, "SELECT 1"));
    }

    [Fact]
    public async Task A_second_app_on_the_same_data_is_refused_with_the_address_of_the_first()
    {
        await using var box = new Sandbox();
        var first = await box.Hold();
        Assert.Contains("already starts", PrivateCluster.HeldByAnother(box.Data)!.Sentence, StringComparison.Ordinal);
        await first.Announce("http://localhost:5999", Cancel);

        var second = await PrivateCluster.Hold(box.Settings, Cancel);

        Assert.Equal("already-running", second.Refusal!.Code);
        Assert.Contains("http://localhost:5999", second.Refusal.Sentence, StringComparison.Ordinal);
        Assert.Equal("already-running", PrivateCluster.HeldByAnother(box.Data)!.Code);
    }

    [Fact]
    public async Task A_stop_ends_the_server_and_frees_the_data_for_the_next_app()
    {
        await using var box = new Sandbox();
        var first = await box.Start();
        await first.Announce("http://localhost:5999", Cancel);

        await first.Stop();

        Assert.False(first.IsAlive);
        Assert.Null(Postmaster.Read(first.Home.Data));
        Assert.Null(PrivateCluster.HeldByAnother(box.Data));
        Assert.False(File.Exists(first.Home.Address));
    }

    [Fact]
    public async Task Two_clusters_run_side_by_side()
    {
        await using var one = new Sandbox();
        await using var other = new Sandbox();
        var first = await one.Start();
        var second = await other.Start();
        await Ask(first, "CREATE TABLE only_here ()");

        Assert.Equal(1L, await Ask(first, "SELECT count(*) FROM pg_tables WHERE tablename = 'only_here'"));
        Assert.Equal(0L, await Ask(second, "SELECT count(*) FROM pg_tables WHERE tablename = 'only_here'"));
    }

    [Fact]
    public async Task A_fresh_start_sets_the_old_data_aside_whole()
    {
        await using var box = new Sandbox();
        var first = await box.Start();
        await Ask(first, "CREATE TABLE old ()");
        // Left running, as by a killed app.
        await first.DisposeAsync();

        var second = await box.Hold();
        var aside = await second.SetAside(Cancel);
        _ = (await second.Start(Cancel)).Value;

        Assert.Equal(0L, await Ask(second, "SELECT count(*) FROM pg_tables WHERE tablename = 'old'"));
        await second.Stop();
        Directory.Delete(second.Home.Data, recursive: true);
        Directory.Move(aside!, second.Home.Data);
        var third = await box.Start();
        Assert.Equal(1L, await Ask(third, "SELECT count(*) FROM pg_tables WHERE tablename = 'old'"));
    }

    [Fact]
    public async Task A_first_start_that_was_interrupted_begins_again()
    {
        await using var box = new Sandbox();
        var first = await box.Hold();
        Directory.CreateDirectory(first.Home.Data + ".new");
        await File.WriteAllTextAsync(Path.Combine(first.Home.Data + ".new", "PG_VERSION"), "15\n", Cancel);

        _ = (await first.Start(Cancel)).Value;

        Assert.Equal(1, await Ask(first, "SELECT 1"));
        Assert.False(Directory.Exists(first.Home.Data + ".new"));
    }

    [Theory]
    [InlineData("with space, comma: and ünïcode")]
    [InlineData("a-path-that-is-far-too-long-for-a-socket/a-path-that-is-far-too-long-for-a-socket/a-path-that-is-far-too-long-for-a-socket")]
    public async Task A_path_that_no_socket_can_have_gets_its_socket_elsewhere(string tail)
    {
        await using var box = new Sandbox(tail);
        var first = await box.Start();
        var address = first.ConnectionString("any", "any");
        Kill(ServerOf(first));
        _ = (await first.Start(Cancel)).Value;

        Assert.Equal(1, await Ask(first, "SELECT 1"));
        Assert.StartsWith(box.Data, first.Home.Folder, StringComparison.Ordinal);
        Assert.Equal(address, first.ConnectionString("any", "any"));
    }

    [Fact]
    public async Task A_data_folder_reached_through_a_link_is_the_same_data()
    {
        await using var box = new Sandbox();
        var first = await box.Start();
        var server = ServerOf(first);
        await first.DisposeAsync();
        var link = Path.Combine(box.Top, "link");
        Directory.CreateSymbolicLink(link, box.Data);

        var second = await box.Start(box.Settings with { DataFolder = link });

        Assert.Equal(server, ServerOf(second));
    }
}

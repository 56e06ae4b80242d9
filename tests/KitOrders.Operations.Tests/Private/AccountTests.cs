using KitOrders.Storage.Private;
using Xunit;
using static KitOrders.Operations.Tests.Private.Sandbox;

namespace KitOrders.Operations.Tests.Private;

public sealed class AccountTests
{
    [Fact]
    public void Root_lends_the_server_to_the_first_account_that_exists()
    {
        var known = new HashSet<string> { "root", "nobody" };

        Assert.Equal("nobody", Account.Choose(["postgres", "nobody"], known, isRoot: true).Value.Name);
        Assert.Equal("postgres", Account.Choose(["postgres", "nobody"], new HashSet<string>(known) { "postgres" }, isRoot: true).Value.Name);
    }

    [Fact]
    public void Root_on_a_machine_without_any_such_account_is_told_to_make_one()
    {
        var refusal = Account.Choose(["postgres"], new HashSet<string> { "root" }, isRoot: true).Refusal!;

        Assert.Equal("no-account", refusal.Code);
        Assert.Contains("useradd", refusal.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Everybody_else_runs_the_server_as_themselves()
    {
        var account = Account.Choose(["postgres"], new HashSet<string>(), isRoot: false).Value;

        Assert.True(account.IsThisProcess);
        Assert.Equal(Environment.UserName, account.Name);
    }

    [Fact]
    public async Task A_cluster_made_without_a_postgres_account_stays_with_the_account_that_made_it()
    {
        await using var box = new Sandbox();
        var first = await box.Start(box.Settings with { Accounts = ["no-such-account", "nobody"] });
        var expected = Environment.IsPrivilegedProcess ? "nobody" : Environment.UserName;
        Assert.Equal(expected, UserOf(ServerOf(first)));
        await first.Stop();

        // The package came later and brought its account; the data does not change hands.
        var second = await box.Start();

        Assert.Equal(expected, UserOf(ServerOf(second)));
    }

    [Fact]
    public async Task A_clone_under_a_closed_folder_gets_a_server_all_the_same_and_finds_it_again()
    {
        await using var box = new Sandbox(mode: UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
        var first = await box.Start();
        await Ask(first, "CREATE TABLE kept ()");
        // Only root works through another account, which cannot pass a closed folder.
        Assert.Equal(!Environment.IsPrivilegedProcess, first.Home.Folder.StartsWith(box.Data, StringComparison.Ordinal));
        await first.Stop();

        var second = await box.Start();

        Assert.Equal(first.Home.Folder, second.Home.Folder);
        Assert.Equal(1L, await Ask(second, "SELECT count(*) FROM pg_tables WHERE tablename = 'kept'"));
    }
}

using System.Reflection;
using KitOrders.Operations;
using KitOrders.Rules;
using KitOrders.Storage;
using Xunit;

namespace KitOrders.Web.Tests.House;

/// <summary>Holds the direction of the house: Web → Operations → Rules, Operations → Storage → Rules, and no other arrow.</summary>
public sealed class RoomsTests
{
    static readonly Assembly rules = typeof(Word).Assembly;
    static readonly Assembly storage = typeof(Storage.Start).Assembly;
    static readonly Assembly operations = typeof(Desk).Assembly;
    static readonly Assembly web = typeof(App).Assembly;

    [Fact]
    public void Rules_know_none_of_our_rooms_and_no_framework_of_the_shell() =>
        Assert.DoesNotContain(Outside(rules), n => n.StartsWith("KitOrders", StringComparison.Ordinal)
            || n.StartsWith("Microsoft.AspNetCore", StringComparison.Ordinal)
            || n.StartsWith("Microsoft.EntityFrameworkCore", StringComparison.Ordinal)
            || n.StartsWith("Npgsql", StringComparison.Ordinal));

    [Fact]
    public void Storage_knows_rules_alone() => Assert.Equal(["KitOrders.Rules"], Ours(storage));

    [Fact]
    public void Operations_know_rules_and_storage() => Assert.Equal(["KitOrders.Rules", "KitOrders.Storage"], Ours(operations));

    [Fact]
    public void Web_knows_operations_rules_the_demo_and_storage_for_its_start() =>
        Assert.Equal(["KitOrders.Operations", "KitOrders.Rules", "KitOrders.SeedDemo", "KitOrders.Storage"], Ours(web));

    [Fact]
    public void Web_cannot_name_the_database()
    {
        Assert.DoesNotContain(Outside(web), n => n.StartsWith("Microsoft.EntityFrameworkCore", StringComparison.Ordinal) || n.StartsWith("Npgsql", StringComparison.Ordinal));
        Assert.False(storage.GetTypes().Single(t => t.Name == "KitOrdersDb").IsPublic);
    }

    [Fact]
    public void Storage_opens_only_what_the_start_and_the_sign_in_need()
    {
        var open = storage.GetExportedTypes().Select(t => t.Name).Order(StringComparer.Ordinal).ToList();
        Assert.NotEmpty(open);
        string[] allowed = ["Account", "Changes", "Database", "KitOrdersSchema", "Schema", "Start", "StartOptions", "StorageServices", "TableGrants"];
        Assert.Empty(open.Except(allowed));
    }

    static List<string> Outside(Assembly room)
    {
        var names = room.GetReferencedAssemblies().Select(a => a.Name!).ToList();
        Assert.NotEmpty(names);
        return names;
    }

    static List<string> Ours(Assembly room) =>
        [.. Outside(room).Where(n => n.StartsWith("KitOrders", StringComparison.Ordinal)).Order(StringComparer.Ordinal)];
}

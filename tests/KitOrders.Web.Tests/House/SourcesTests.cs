using Xunit;

namespace KitOrders.Web.Tests.House;

/// <summary>Holds the form of the sources: folders by noun and desk, files of one screen, nothing left lying about.</summary>
public sealed class SourcesTests
{
    const int LongFile = 400;

    static readonly string[] foldersByKind =
        ["Models", "Services", "Helpers", "Managers", "Utils", "Utilities", "Common", "Core", "Infrastructure", "Extensions", "Interfaces", "Dtos"];

    [Fact]
    public void No_folder_is_named_after_a_kind() =>
        Assert.DoesNotContain(
            Directory.EnumerateDirectories(Path.Combine(Root, "src"), "*", SearchOption.AllDirectories).Select(d => Path.GetRelativePath(Root, d)),
            d => !IsBuilt(d) && foldersByKind.Contains(Path.GetFileName(d), StringComparer.OrdinalIgnoreCase));

    [Fact]
    public void No_source_is_longer_than_a_person_reads_at_a_sitting() =>
        Assert.Empty(Sources.Where(f => File.ReadLines(f).Count() > LongFile).Select(f => Path.GetRelativePath(Root, f)));

    [Fact]
    public void Nothing_is_left_to_be_done_in_a_comment() =>
        Assert.Empty(Sources.Where(f => File.ReadAllText(f) is var text
            && new[] { "TO" + "DO", "FIX" + "ME", "NotImplemented" + "Exception", "Thread.S" + "leep" }.Any(word => text.Contains(word, StringComparison.Ordinal)))
            .Select(f => Path.GetRelativePath(Root, f)));

    [Fact]
    public void Every_operation_that_writes_is_named_in_a_test()
    {
        var tests = string.Join('\n', Directory.EnumerateFiles(Path.Combine(Root, "tests"), "*.cs", SearchOption.AllDirectories)
            .Where(f => !IsBuilt(f)).Select(File.ReadAllText));
        var writes = Sources.Where(f => f.Contains("/KitOrders.Operations/", StringComparison.Ordinal))
            .SelectMany(f => File.ReadAllLines(f))
            .Where(l => l.StartsWith("public sealed class ", StringComparison.Ordinal) && l.Contains("(Desk desk", StringComparison.Ordinal))
            .Select(l => l["public sealed class ".Length..l.IndexOf('(', StringComparison.Ordinal)]).ToList();
        Assert.True(writes.Count > 30, $"Found only {writes.Count} operations; look whether they are still written the same way.");
        Assert.DoesNotContain(writes, name => !tests.Contains(name, StringComparison.Ordinal));
    }

    static IReadOnlyList<string> Sources
    {
        get
        {
            var found = new[] { "src", "tests", "migrations/KitOrders.Migrations" }
                .SelectMany(room => Directory.EnumerateFiles(Path.Combine(Root, room), "*", SearchOption.AllDirectories))
                .Where(f => f.EndsWith(".cs", StringComparison.Ordinal) || f.EndsWith(".razor", StringComparison.Ordinal) || f.EndsWith(".js", StringComparison.Ordinal))
                .Where(f => !IsBuilt(f) && !f.Contains("/Steps/", StringComparison.Ordinal)).ToList();
            Assert.True(found.Count > 100, $"Found only {found.Count} sources under {Root}.");
            return found;
        }
    }

    static bool IsBuilt(string path) => path.Contains("/bin/", StringComparison.Ordinal) || path.Contains("/obj/", StringComparison.Ordinal)
        || path.EndsWith("/bin", StringComparison.Ordinal) || path.EndsWith("/obj", StringComparison.Ordinal);

    static string Root
    {
        get
        {
            var folder = new DirectoryInfo(AppContext.BaseDirectory);
            while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "KitOrders.slnx")))
                folder = folder.Parent;
            return folder?.FullName ?? throw new InvalidOperationException("The tests do not lie inside the repository.");
        }
    }
}

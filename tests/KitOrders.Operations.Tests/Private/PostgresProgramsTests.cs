using KitOrders.Storage.Private;
using Xunit;

namespace KitOrders.Operations.Tests.Private;

public sealed class PostgresProgramsTests
{
    static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task The_programs_of_this_machine_are_found_and_say_their_version()
    {
        var found = (await PostgresPrograms.Find(configured: null, majorOfData: null, Cancel)).Value;

        Assert.True(found.Major >= PostgresPrograms.Oldest);
        Assert.True(File.Exists(found.InitDb));
    }

    [Fact]
    public async Task Data_of_another_version_is_refused_with_the_package_to_install()
    {
        var refusal = (await PostgresPrograms.Find(configured: null, majorOfData: 9, Cancel)).Refusal!;

        Assert.Equal("postgres-version", refusal.Code);
        Assert.Contains("postgresql-9", refusal.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_folder_with_only_some_of_the_programs_is_not_taken()
    {
        var some = Directory.CreateTempSubdirectory();
        await File.WriteAllTextAsync(Path.Combine(some.FullName, "postgres"), "", Cancel);

        var refusal = (await PostgresPrograms.Find(some.FullName, majorOfData: null, Cancel)).Refusal!;

        Assert.Equal("postgres-missing", refusal.Code);
        Assert.Contains(some.FullName, refusal.Sentence, StringComparison.Ordinal);
        some.Delete(recursive: true);
    }
}

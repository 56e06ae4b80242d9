using System.Globalization;
using KitOrders.FaultHost;
using Xunit;

namespace KitOrders.Crash.Tests;

/// <summary>
/// Twenty kills while clients work: after each, stock is true, every acknowledged command is there exactly once, and every
/// other one wholly or not at all until it is sent again.
/// </summary>
public sealed class ProgramKillTests
{
    [Fact]
    public async Task Nothing_acknowledged_is_lost_and_nothing_is_done_twice_when_the_program_is_killed()
    {
        Kill[] kills =
        [
            Kill.Program, Kill.Program, Kill.AfterBegin, Kill.AfterEffect, Kill.BeforeCommit, Kill.AfterCommit,
            Kill.AfterEffect, Kill.AfterCommit, Kill.BeforeCommit, Kill.Program, Kill.Program,
        ];
        await using var plant = await Kills.Begin(Kills.Seed, kills[0]);
        await plant.Survive(kills);
    }
}

public sealed class ServerKillTests
{
    [Fact]
    public async Task Nothing_acknowledged_is_lost_and_nothing_is_done_twice_when_the_database_server_is_killed()
    {
        Kill[] kills =
        [
            Kill.Session, Kill.Server, Kill.Session, Kill.Server, Kill.Session, Kill.Server, Kill.Session, Kill.Server, Kill.Session,
        ];
        await using var plant = await Kills.Begin(Kills.Seed, kills[0]);
        await plant.Survive(kills);
    }
}

/// <summary>A program that answers what it has not committed must not pass.</summary>
public sealed class PlantedKillTests
{
    [Fact]
    public async Task A_commit_that_does_not_come_before_the_answer_is_found_out_by_a_kill()
    {
        await using var plant = await Kills.Begin(Kills.Seed, Kill.AfterEffect);
        Assert.Empty(await plant.Round(Kill.AfterEffect, Kill.AfterEffect));
        await plant.Arm(FaultPoints.CommitNever, 1);
        await plant.Receive("lost lot");
        var found = await plant.Round(Kill.Program, null);
        Assert.Contains(found, p => p.Contains("receive-lot lost lot was acknowledged and is not there", StringComparison.Ordinal));
    }
}

/// <summary>As many kills as asked for: KITORDERS_KILLS=1000 ./test --long --only Crash.</summary>
[Trait("Length", "Long")]
public sealed class ManyKillsTests
{
    const int Usual = 60;

    [Fact]
    public async Task However_often_anything_is_killed_nothing_acknowledged_is_lost()
    {
        var wanted = int.TryParse(Environment.GetEnvironmentVariable("KITORDERS_KILLS"), NumberStyles.None, CultureInfo.InvariantCulture, out var given) ? given : Usual;
        var seed = Kills.Seed;
        var random = new Random(seed);
        var kinds = Enum.GetValues<Kill>();
        Kill[] kills = [.. Enumerable.Range(0, wanted).Select(n => n < kinds.Length ? kinds[n] : kinds[random.Next(kinds.Length)])];
        await using var plant = await Kills.Begin(seed, kills[0]);
        await plant.Survive(kills);
    }
}

using System.Text.RegularExpressions;
using KitOrders.TestWire;
using Xunit;

namespace KitOrders.Operations.Tests.Faults;

/// <summary>
/// The checker is checked: faults are planted in what the product says to the server, one at a time, and each must be found
/// by the check named beside it. The product as it is passes all of them. A fault that finds no place any more fails.
/// </summary>
public sealed class PlantedFaultTests(FaultPlant plant) : IClassFixture<FaultPlant>
{
    /// <param name="Look">Which check has to find it.</param>
    /// <param name="Finds">What it has to say.</param>
    sealed record Planted(Func<Exchange, Then?> Fault, Func<Examination, Task<IReadOnlyList<string>>> Look, string Finds)
    {
        /// <summary>Only one of two programs has the fault.</summary>
        public bool InSecondOnly { get; init; }
    }

    static readonly Dictionary<string, Planted> faults = new()
    {
        ["the part lock is skipped"] = new(Says(@"(from\s+part_stock\b.*)for\s+no\s+key\s+update(\s+of\s+s)?", "$1"), e => e.LastPieceWhileTheFirstHolds(), "refused: not-enough-stock"),
        ["the parts are locked in another order"] = new(Says(@"(from\s+part_stock\b.*order\s+by\s+\w*\.?part_id)(\s+for\s+no\s+key\s+update)", "$1 desc$2"),
            e => e.TwoThatLockTheSameParts(), "the server had to say 40P01") { InSecondOnly = true },
        ["stock is allocated from a stale snapshot"] = new(Says(@"^BEGIN.*", "BEGIN ISOLATION LEVEL REPEATABLE READ"), e => e.LastPieceBeforeTheFirstLocks(), "the server had to say 40001"),
        ["a movement has the wrong sign"] = new(Says(@"(insert\s+into\s+movement\b.*\bt\.bin,\s*)t\.on_hand\b", "$1-t.on_hand"), e => e.Commands(), "on-hand-is-the-sum-of-movements"),
        ["a movement is not written"] = new(Says(@"(insert\s+into\s+movement\b.*where\s+)t\.on_hand\s*<>\s*0", "$1false"), e => e.Commands(), "on-hand-is-the-sum-of-movements"),
        ["reserved is not lowered by a pick"] = new(Says(@"(on_hand\s*=\s*b\.on_hand\s*\+\s*x\.on_hand,\s*reserved\s*=\s*b\.reserved)\s*\+\s*x\.reserved", "$1"),
            e => e.Commands(), "PickLines.Run was refused: not-enough-stock"),
        ["a reservation is not lowered by a pick"] = new(Says(@"(update\s+reservation\b.*\bheld\s*=\s*r\.held)\s*\+\s*x\.reserved", "$1"),
            e => e.Commands(), "reserved-is-what-reservations-hold"),
        ["a waiting shortage is not covered"] = new(Says(@"(\bdemand_line\b.*\bshort""?\s*>\s*)0", "${1}1000"), e => e.Commands(), "waits for C beside"),
        ["the command is not kept"] = new(Says(@"update\s+command\s+set\s+answer\s*=\s*(\$\d+)\s+where", "delete from command where ${1}::text is not null and"),
            e => e.Commands(), "is not there"),
        ["a repeated command is done again"] = new(Says(@"(insert\s+into\s+command\b.*)on\s+conflict\s+do\s+nothing", "$1on conflict (person_id, key) do update set at = excluded.at"),
            e => e.Commands(), "ReceiveLot.Run once more changed"),
        ["the command is kept outside its transaction"] = new(exchange => exchange.Says("insert into command") ? Behind(exchange, "commit; begin") : null,
            e => e.Commands(), "changed command without its commit"),
        ["the commit comes after the answer"] = new(exchange => exchange.Is("COMMIT") ? Then.Later : null, e => e.Commands(), "was acknowledged and is not there"),
        ["the commit never comes"] = new(Says("^COMMIT.*", "ROLLBACK"), e => e.Commands(), "was acknowledged and is not there"),
        ["nothing is left in the trail"] = new(Says(@"(insert\s+into\s+audit\b.*)(order\s+by\s+n\b)", "$1where false $2"), e => e.Commands(), "left nothing in the trail"),
    };

    public static IEnumerable<TheoryDataRow<string>> Faults => faults.Keys.Select(f => new TheoryDataRow<string>(f));

    [Theory, MemberData(nameof(Faults))]
    public async Task A_planted_fault_is_found(string fault)
    {
        var planted = faults[fault];
        await using var examination = await Examination.Of(plant, planted.Fault, planted.InSecondOnly);
        var found = await planted.Look(examination);
        Assert.True(examination.Planted > 0, $"There was no place to plant that {fault}; look how the product says it now.");
        Assert.Contains(found, p => p.Contains(planted.Finds, StringComparison.Ordinal));
    }

    [Fact]
    public async Task The_product_as_it_is_passes_every_check()
    {
        foreach (var look in faults.Values.Select(f => f.Look).DistinctBy(l => l.Method))
        {
            await using var examination = await Examination.Of(plant, _ => null);
            Assert.Empty(await look(examination));
        }
    }

    static Func<Exchange, Then?> Says(string pattern, string instead)
    {
        var words = new Regex(pattern, RegexOptions.IgnoreCase | RegexOptions.Singleline);
        return exchange => exchange.Rewrite(s => words.Replace(s, instead)) ? Then.Go : null;
    }

    static Then Behind(Exchange exchange, string statement)
    {
        exchange.Behind = statement;
        return Then.Go;
    }
}

using System.Globalization;
using CsCheck;
using KitOrders.Operations.Orders;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using Npgsql;
using Xunit;

namespace KitOrders.Operations.Tests.StockProof;

/// <summary>What the database holds after its statements is what the pure rule says of the same stock, lot by lot and bin by bin.</summary>
public sealed class HeldAsPlannedTests(TestDatabase databases)
{
    /// <summary>Cases that once failed.</summary>
    static readonly string[] keptSeeds = [];

    public readonly record struct Pile(int Part, int Lot, int Bin, int Expires, int Received, int OnHand, bool Aside);

    // Few values each, so that ties are common.
    static readonly Gen<Pile[]> piles = Gen.Select(Gen.Int[0, 2], Gen.Int[1, 12], Gen.Int[0, 2], Gen.Int[0, 4], Gen.Int[0, 2], Gen.Int[1, 4], Gen.Int[0, 7],
        (part, lot, bin, expires, received, onHand, aside) => new Pile(part, lot, bin, expires, received, onHand, aside == 0)).Array[0, 40];

    static readonly int[] expiresIn = [-2, 5, 12, 25, int.MaxValue];

    static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Opening_and_covering_hold_what_the_rule_holds_on_random_stock()
    {
        await using var plant = await ProofPlant.New(databases);
        foreach (var seed in keptSeeds)
            await piles.SampleAsync(drawn => Case(plant, drawn), seed: seed, iter: 1, threads: 1);
        await piles.SampleAsync(drawn => Case(plant, drawn), iter: 12, threads: 2);
        Assert.Empty(await plant.Untruths());
    }

    static async Task Case(ProofPlant plant, Pile[] drawn)
    {
        var prefix = await plant.NextCase();
        var clock = ProofPlant.Clock();
        var desk = plant.Desk(clock);
        var numbers = new List<string>();
        // Two open on bare shelves and wait, one is opened when there is stock.
        foreach (var (kit, quantity, neededIn) in new[] { ("J", 3m, 20), ("K", 2m, 8), ("J", 2m, 12) })
        {
            numbers.Add(string.Create(CultureInfo.InvariantCulture, $"{prefix}-{numbers.Count + 1}"));
            var wanted = new NewOrder(ProofPlant.Tag(prefix, numbers.Count), "JOB", ProofPlant.FirstDay.AddDays(neededIn), 5)
            {
                Number = numbers[^1], Kits = [new KitAsk($"{prefix}-{kit}", quantity)], Breakdown = true,
            };
            Assert.Null((await new CreateOrder(desk).Run(plant.Call, wanted, Ct)).Refusal);
            clock.Now = clock.Now.AddMinutes(1);
            if (numbers.Count < 3)
                Assert.Null((await new OpenOrder(desk).Run(plant.Call, numbers[^1], Ct)).Refusal);
        }
        await Put(plant, prefix, drawn);

        var shelves = await Shelves(plant, prefix);
        Assert.Null((await new OpenOrder(desk).Run(plant.Call, numbers[2], Ct)).Refusal);
        var opened = await Lines(plant, numbers[2]);
        Assert.Equal(
            Told(ReservationPlan.CoverShortages(opened.OrderBy(l => l.Source).Select(l => new Wanting(l.Id, l.Part, l.Required, l.FitOn)), shelves)),
            await Held(plant, numbers[2]));

        // A change that changes nothing covers what waits for the parts of its order; the two that waited hold nothing yet.
        shelves = await Shelves(plant, prefix);
        var waiting = (await Lines(plant, prefix)).Where(l => l.Short > 0).OrderBy(l => l.Rank).ThenBy(l => l.Source).ToList();
        var before = await Held(plant, prefix);
        Assert.Null((await new ChangeOrder(desk).Run(plant.Call, numbers[1], new OrderChange(WorkClass: 5), Ct)).Refusal);
        var mine = (await Lines(plant, numbers[1])).Select(l => l.Part).ToHashSet();
        Assert.Equal(
            Told(ReservationPlan.CoverShortages(waiting.Where(l => mine.Contains(l.Part)).Select(l => new Wanting(l.Id, l.Part, l.Short, l.FitOn)), shelves)),
            (await Held(plant, prefix)).Except(before).Order());
    }

    static IEnumerable<(int Line, int Lot, int Bin, decimal Held)> Told(IEnumerable<Hold> holds) =>
        holds.Select(h => (h.Line.Value, h.Take.Lot.Value, h.Take.Bin.Value, h.Take.Quantity)).Order();

    /// <summary>Stock as if it had been received, some of it long ago.</summary>
    static async Task Put(ProofPlant plant, string prefix, Pile[] drawn)
    {
        var lots = drawn.GroupBy(p => (p.Part, p.Lot)).ToDictionary(l => l.Key, l => l.First());
        var piles = drawn.DistinctBy(p => (p.Part, p.Lot, p.Bin)).ToList();
        static string Name(string prefix, int part) => $"{prefix}-{"ASM"[part]}";
        static DateOnly Expires(int by) => expiresIn[by] == int.MaxValue ? DateOnly.MaxValue : ProofPlant.FirstDay.AddDays(expiresIn[by]);
        await using var connection = new NpgsqlConnection(plant.Database.OwnerConnectionString);
        await connection.OpenAsync(Ct);
        await using var command = new NpgsqlCommand("""
            with t as (
              select p.id part, b.id bin, t.number, t.expires, t.received, t.aside, t.quantity
              from unnest(@parts, @numbers, @bins, @expires, @received, @aside, @quantities) t(part, number, bin, expires, received, aside, quantity)
              join part p on p.number = t.part join bin b on b.code = t.bin
            ), lots as (
              insert into lot (part_id, number, received_on, expires_on, quarantine)
              select distinct on (part, number) part, number, received, expires, case when aside then 'bag torn' end from t returning id, part_id, number
            ), stock as (
              insert into bin_stock (lot_id, bin_id, part_id, on_hand, reserved) select l.id, t.bin, t.part, t.quantity, 0 from t join lots l on l.part_id = t.part and l.number = t.number
            )
            insert into movement (at, kind, part_id, lot_id, bin_id, quantity, on_hand_after, person_id)
            select now(), 'receipt', t.part, l.id, t.bin, t.quantity, t.quantity, @person from t join lots l on l.part_id = t.part and l.number = t.number
            """, connection)
        {
            Parameters =
            {
                new("parts", piles.Select(p => Name(prefix, p.Part)).ToArray()),
                new("numbers", piles.Select(p => string.Create(CultureInfo.InvariantCulture, $"L{p.Lot}")).ToArray()),
                new("bins", piles.Select(p => ProofPlant.Bins[p.Bin]).ToArray()),
                new("expires", piles.Select(p => Expires(lots[(p.Part, p.Lot)].Expires)).ToArray()),
                new("received", piles.Select(p => ProofPlant.FirstDay.AddDays(-lots[(p.Part, p.Lot)].Received)).ToArray()),
                new("aside", piles.Select(p => lots[(p.Part, p.Lot)].Aside).ToArray()),
                new("quantities", piles.Select(p => p.Part == 2 ? p.OnHand * 0.35m : p.OnHand).ToArray()),
                new("person", plant.Call.Actor.Person.Value),
            },
        };
        await command.ExecuteNonQueryAsync(Ct);
    }

    static Task<List<LotBalance>> Shelves(ProofPlant plant, string prefix) => Ask(plant, """
        select s.part_id, s.lot_id, l.number, s.bin_id, b.walk_order, l.received_on, nullif(l.expires_on, 'infinity'), l.quarantine is not null, s.on_hand, s.reserved
        from part p join bin_stock s on s.part_id = p.id join lot l on l.id = s.lot_id join bin b on b.id = s.bin_id where p.number like $1 || '-%'
        """, prefix, r => new LotBalance(new PartId(r.GetInt32(0)), new LotId(r.GetInt32(1)), r.GetString(2), new BinId(r.GetInt32(3)), r.GetInt32(4),
            r.GetFieldValue<DateOnly>(5), r.IsDBNull(6) ? null : r.GetFieldValue<DateOnly>(6), r.GetBoolean(7), r.GetDecimal(8), r.GetDecimal(9)));

    sealed record Line(DemandLineId Id, PartId Part, LineSource Source, decimal Required, decimal Short, DateOnly FitOn, Priority Rank);

    static Task<List<Line>> Lines(ProofPlant plant, string number) => Ask(plant, """
        select d.id, d.part_id, d.source, d.required, d.short, o.needed_by, o.number, p.criticality, o.work_class, o.opened_at
        from work_order o join demand_line d on d.order_id = o.id join position p on p.id = o.position_id where o.number = $1 or o.number like $1 || '-%'
        """, number, r => new Line(new DemandLineId(r.GetInt32(0)), new PartId(r.GetInt32(1)), Enum.Parse<LineSource>(r.GetString(2), ignoreCase: true), r.GetDecimal(3), r.GetDecimal(4),
            r.GetFieldValue<DateOnly>(5), new Priority(r.GetString(6), r.GetInt32(7), r.GetInt32(8), r.GetFieldValue<DateOnly>(5), r.GetFieldValue<DateTimeOffset>(9))));

    static async Task<IEnumerable<(int Line, int Lot, int Bin, decimal Held)>> Held(ProofPlant plant, string orders) => (await Ask(plant, """
        select r.demand_line_id, r.lot_id, r.bin_id, r.held from work_order o join reservation r on r.order_id = o.id
        where (o.number = $1 or o.number like $1 || '-%') and r.held > 0
        """, orders, r => (r.GetInt32(0), r.GetInt32(1), r.GetInt32(2), r.GetDecimal(3)))).Order();

    static async Task<List<T>> Ask<T>(ProofPlant plant, string question, string about, Func<NpgsqlDataReader, T> row)
    {
        await using var command = plant.Rows.CreateCommand(question);
        command.Parameters.Add(new() { Value = about });
        await using var reader = await command.ExecuteReaderAsync(Ct);
        var rows = new List<T>();
        while (await reader.ReadAsync(Ct))
            rows.Add(row(reader));
        return rows;
    }
}

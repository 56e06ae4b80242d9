using System.Data.Common;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;
using KitOrders.Rules.Stock;
using KitOrders.Storage;

namespace KitOrders.Operations.Kits;

/// <summary>A part as far as kits, shelves and demand ask for it.</summary>
internal sealed record CatalogueItem(PartId Id, string Number, string Description, Unit Unit)
{
    public IReadOnlyList<Elastomer> Elastomers { get; init; } = [];
    public int? LeadTimeDays { get; init; }
    public decimal? UnitCost { get; init; }
    public FittingThread? Thread { get; init; }
    public decimal? HandedOutIn { get; init; }
}

/// <summary>The current revision of a kit or assembly.</summary>
internal sealed record CurrentRevision(KitRevisionId Id, int Number, KitStructure Structure);

/// <summary>The current revisions of some kits and of everything inside them, with the parts they name.</summary>
internal sealed record KitCatalogue(IReadOnlyDictionary<PartId, CurrentRevision> Revisions, IReadOnlyDictionary<PartId, CatalogueItem> Parts)
{
    /// <summary>Of a part p.</summary>
    public const string ItemColumns = "p.id, p.number, p.description, p.unit, p.elastomers, p.lead_time_days, p.unit_cost, p.thread, p.handed_out_in";

    /// <summary>
    /// Rows of the trees below @roots: every part once, or once for each line of its current revision. How deep a tree goes
    /// cannot be guessed, and a guess too high reads whole tables: offset 0 keeps each step to the rows that the last one found.
    /// </summary>
    const string Trees = $"""
        with recursive tree (part_id) as (
          select unnest(@roots)
          union
          select l.part_id from tree t
          cross join lateral (select r.id from kit_revision r where r.part_id = t.part_id and r.state = 'released' offset 0) r
          cross join lateral (select l.part_id from kit_line l where l.kit_revision_id = r.id offset 0) l
        )
        select {ItemColumns},
               r.id, r.number, r.buildable, l.number, l.part_id, l.quantity, l.source, l.spare_policy, l.reject_rate, l.wraps, l.wraps_for
        from tree t
        cross join lateral (select * from part p where p.id = t.part_id offset 0) p
        left join lateral (select * from kit_revision r where r.part_id = p.id and r.state = 'released' offset 0) r on true
        left join lateral (select * from kit_line l where l.kit_revision_id = r.id offset 0) l on true
        order by p.id, l.number
        """;

    IReadOnlyDictionary<PartId, KitStructure>? structures;

    /// <summary>What stands in for parts of the trees on the order that is looked at.</summary>
    public ILookup<PartId, PartId> StandIns { get; init; } = Enumerable.Empty<PartId>().ToLookup(p => p);

    public IReadOnlyDictionary<PartId, KitStructure> Structures => structures ??= Revisions.ToDictionary(r => r.Key, r => r.Value.Structure);

    /// <summary>Everything anywhere in the trees of the kits: what an order may ask for, and so what opening it locks.</summary>
    public IEnumerable<PartId> All => Parts.Keys;

    /// <summary>Parts that are kept from the pump somewhere in the trees.</summary>
    public int[] Kept => [.. Revisions.Values.SelectMany(r => r.Structure.Lines).Where(l => l.Source == LineSource.CarriedOver).Select(l => l.Part.Value).Distinct()];

    /// <summary>The elastomers of a part, its own and those inside its box.</summary>
    public IReadOnlyList<Elastomer> ElastomersOf(PartId part) => Structures.ContainsKey(part)
        ? KitElastomers.Of(part, Structures, Parts.ToDictionary(p => p.Key, p => p.Value.Elastomers)) : Parts[part].Elastomers;

    public static async Task<KitCatalogue> Load(KitOrdersDb db, IEnumerable<PartId> kits, CancellationToken ct)
    {
        var trip = new Trip(db);
        var asked = Ask(trip, kits);
        await trip.Send(ct);
        return asked();
    }

    /// <summary>Asks for the trees below the kits; the catalogue is there once the trip has been made.</summary>
    public static Func<KitCatalogue> Ask(Trip trip, IEnumerable<PartId> kits)
    {
        var rows = trip.With("roots", kits.Select(k => k.Value).ToArray())
            .Ask(Trees, row => (Item: ItemOf(row), Revision: RevisionOf(row), Line: LineOf(row)));
        return () => Of(rows.Rows);
    }

    static KitCatalogue Of(IReadOnlyList<(CatalogueItem Item, (KitRevisionId Id, int Number, bool Buildable)? Revision, KitLineFact? Line)> rows)
    {
        var byPart = rows.GroupBy(r => r.Item.Id).ToList();
        return new KitCatalogue(
            byPart.Where(p => p.First().Revision is not null).ToDictionary(p => p.Key, p => Current(p.Key, p.First().Revision!.Value, p.Select(r => r.Line))),
            byPart.ToDictionary(p => p.Key, p => p.First().Item));
    }

    static CurrentRevision Current(PartId kit, (KitRevisionId Id, int Number, bool Buildable) revision, IEnumerable<KitLineFact?> lines) =>
        new(revision.Id, revision.Number, new KitStructure(kit, revision.Buildable, [.. lines.Where(l => l is not null).Select(l => l!)]));

    public static CatalogueItem ItemOf(DbDataReader row) => new(new PartId(row.GetInt32(0)), row.GetString(1), row.GetString(2), row.Word<Unit>(3))
    {
        Elastomers = Elastomers(row.Text(4)),
        LeadTimeDays = row.Maybe<int>(5),
        UnitCost = row.Maybe<decimal>(6),
        Thread = row.Text(7) is { } text && PipeThread.Parse(text) is { IsDone: true, Value: var thread }
            ? new FittingThread(thread.OutsideDiameterMm, thread.IsTaper) : null,
        HandedOutIn = row.Maybe<decimal>(8),
    };

    static (KitRevisionId Id, int Number, bool Buildable)? RevisionOf(DbDataReader row) =>
        row.IsDBNull(9) ? null : (new KitRevisionId(row.GetInt32(9)), row.GetInt32(10), row.GetBoolean(11));

    static KitLineFact? LineOf(DbDataReader row) => row.IsDBNull(12) ? null
        : new KitLineFact(row.GetInt32(12), new PartId(row.GetInt32(13)), row.GetDecimal(14), row.Word<LineSource>(15))
        {
            SparePolicy = row.Word<SparePolicy>(16), RejectRate = row.Maybe<decimal>(17), Wraps = row.Maybe<decimal>(18), WrapsFor = row.GetFieldValue<int[]>(19),
        };

    public static KitStructure StructureOf(KitRevision revision) => new(revision.PartId, revision.Buildable,
        [.. revision.Lines.OrderBy(l => l.Number).Select(l => new KitLineFact(l.Number, l.PartId, l.Quantity, l.Source)
        {
            SparePolicy = l.SparePolicy, RejectRate = l.RejectRate, Wraps = l.Wraps, WrapsFor = l.WrapsFor,
        })]);

    /// <summary>Recorded elastomers were read before they were kept; a code that no longer reads counts as none.</summary>
    static IReadOnlyList<Elastomer> Elastomers(string? text) => text is not null && Elastomer.Read(text) is { IsDone: true } read ? read.Value : [];
}

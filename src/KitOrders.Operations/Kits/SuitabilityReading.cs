using System.Data.Common;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;
using KitOrders.Rules.Stock;
using KitOrders.Storage;

namespace KitOrders.Operations.Kits;

/// <summary>A lot that is or would be held for a kit's tree.</summary>
internal readonly record struct HeldLot(PartId Part, LotId Lot);

/// <summary>What does not change while an order is being opened: the pump's model, where it stands, and what the kits call for on it.</summary>
internal sealed record SuitabilityGround(PumpFacts Pump, PositionFacts Position, IReadOnlyDictionary<KitRevisionId, (int Number, FitFacts? Fit)> Revisions);

/// <summary>Gathers what is on record about a pump and some kits, for the rule to judge.</summary>
internal static class SuitabilityReading
{
    /// <summary>Of a pump p, its model m, a position s and its fluid f.</summary>
    public const string PlaceColumns = """
        m.code, m.control, p.sensing_rod, m.sensing_rod_available, m.ports,
        s.zone, s.ex_group, s.temperature_class, s.supply_kind, s.supply_volts, s.cable_m, s.cable_mm2,
        f.name, f.approved, f.refused, f.ignition_c, f.bonding
        """;

    /// <summary>Of a kit revision r, its fit f for the model m and the model t that it makes of it.</summary>
    public const string FitColumns = """
        r.id, r.number, f.id, m.control, t.code, t.control, f.needs_sensing_rod, f.ports, f.supply_kind, f.volts, f.volts_tolerance_pct, f.amps,
        f.ex_marking, f.materials, f.once, f.requires_kits, f.excludes_kits
        """;

    /// <summary>Whose kits are still to come onto their pump.</summary>
    public static readonly string Living = string.Join(", ", new[] { OrderState.Open, OrderState.Staged, OrderState.Underway, OrderState.Finished }.Select(s => $"'{Word.Of(s)}'"));

    public static async Task<IReadOnlyList<Judgement>> Judge(
        KitOrdersDb db, Pump pump, Position position, IReadOnlyList<PartId> kits, KitCatalogue catalogue,
        IReadOnlyCollection<HeldLot> lots, DateOnly fitOn, OrderId? order, CancellationToken ct,
        IReadOnlyDictionary<PartId, KitRevisionId>? openedWith = null, bool atStart = false)
    {
        var revisions = kits.ToDictionary(k => k, k => openedWith?.TryGetValue(k, out var opened) == true ? opened : catalogue.Revisions.GetValueOrDefault(k)?.Id);
        var trip = new Trip(db).With("pump", pump.Id.Value).With("position", position.Id.Value).With("order", order?.Value)
            .With("revisions", revisions.Values.Where(r => r is not null).Select(r => r!.Value.Value).ToArray())
            .With("lots", lots.Select(l => l.Lot.Value).Distinct().ToArray());
        var ground = AskGround(trip);
        var company = AskCompany(trip);
        var held = trip.Ask("select id, number, expires_on, quarantine is not null from lot where id = any(@lots)",
            row => (Id: new LotId(row.GetInt32(0)), Number: row.GetString(1), GoodUntil: LastGoodDay(row, 2), Quarantined: row.GetBoolean(3)));
        await trip.Send(ct);
        var known = held.Rows.ToDictionary(l => l.Id);
        return Judge(ground(), company(), kits, revisions, catalogue,
            [.. lots.Select(l => (l.Part, known[l.Lot].Number, known[l.Lot].GoodUntil, known[l.Lot].Quarantined))], fitOn, atStart);
    }

    /// <param name="lots">Lots that are or would be held, by part.</param>
    public static IReadOnlyList<Judgement> Judge(
        SuitabilityGround ground, SuitabilityCompany company, IReadOnlyList<PartId> kits, IReadOnlyDictionary<PartId, KitRevisionId?> revisions,
        KitCatalogue catalogue, IReadOnlyCollection<(PartId Part, string Lot, DateOnly? GoodUntil, bool Quarantined)> lots, DateOnly fitOn, bool atStart = false)
    {
        var facts = new SuitabilityFacts
        {
            Pump = ground.Pump with { Fitted = company.Fitted },
            Position = ground.Position,
            Kits = [.. kits.Select(kit => FactsOf(kit, revisions[kit] is { } id ? ground.Revisions.GetValueOrDefault(id) : default, catalogue, lots))],
            OtherOrders = company.OtherOrders,
            FitOn = fitOn,
        };
        var judgements = Suitability.Judge(facts);
        if (!atStart)
            return judgements;
        // What an earlier order was to bring must be on the pump, or in this order, by the time work starts.
        var fittedOnly = Suitability.Judge(facts with { OtherOrders = [] });
        return [.. judgements.Select((judged, n) => judged.Check == Check.Prerequisites ? fittedOnly[n] : judged)];
    }

    /// <summary>Asks for the ground of @pump, @position and @revisions.</summary>
    static Func<SuitabilityGround> AskGround(Trip trip)
    {
        var place = trip.Ask($"""
            select {PlaceColumns}
            from pump p join pump_model m on m.id = p.model_id join position s on s.id = @position left join fluid f on f.id = s.fluid_id
            where p.id = @pump
            """, row => (Pump: PumpOf(row, 0), Position: PositionOf(row, 0)));
        var fits = trip.Ask($"""
            select {FitColumns}
            from kit_revision r join pump p on p.id = @pump join pump_model m on m.id = p.model_id
            left join kit_fit f on f.kit_revision_id = r.id and f.model_id = p.model_id left join pump_model t on t.id = f.converts_to_id
            where r.id = any(@revisions)
            """, row => (Id: new KitRevisionId(row.GetInt32(0)), Number: row.GetInt32(1), Fit: FitOf(row, 0)));
        return () => new SuitabilityGround(place.Rows[0].Pump, place.Rows[0].Position, fits.Rows.ToDictionary(f => f.Id, f => (f.Number, f.Fit)));
    }

    /// <summary>Asks what is on the pump @pump and what its orders other than @order are to bring.</summary>
    public static Func<SuitabilityCompany> AskCompany(Trip trip)
    {
        var rows = trip.Ask($"""
            select null, null, p.number from fitted_kit f join part p on p.id = f.kit_part_id where f.pump_id = @pump
            union all
            select o.number, coalesce(o.planned_fit_on, o.needed_by), p.number
            from work_order o join order_kit k on k.order_id = o.id join part p on p.id = k.kit_part_id
            where o.pump_id = @pump and o.state in ({Living}) and o.id is distinct from @order
            """, row => (Order: row.Text(0), FitOn: row.Maybe<DateOnly>(1), Kit: row.GetString(2)));
        return () => CompanyOf(rows.Rows);
    }

    public static SuitabilityCompany CompanyOf(IEnumerable<(string? Order, DateOnly? FitOn, string Kit)> rows)
    {
        var all = rows as IReadOnlyCollection<(string? Order, DateOnly? FitOn, string Kit)> ?? [.. rows];
        return new([.. all.Where(k => k.Order is null).Select(k => k.Kit).Order(StringComparer.Ordinal)],
            [.. all.Where(k => k.Order is not null).GroupBy(o => (Order: o.Order!, FitOn: o.FitOn!.Value)).OrderBy(o => o.Key.FitOn).ThenBy(o => o.Key.Order, StringComparer.Ordinal)
                .Select(o => new OtherOrderFacts(o.Key.Order, o.Key.FitOn, [.. o.Select(k => k.Kit).Order(StringComparer.Ordinal)]))]);
    }

    public static DateOnly? LastGoodDay(DbDataReader row, int column) =>
        row.GetFieldValue<DateOnly>(column) is var day && day == Lot.NoExpiry ? null : day;

    public static KitFacts FactsOf(PartId kit, (int Number, FitFacts? Fit) revision, KitCatalogue catalogue, IReadOnlyCollection<(PartId Part, string Lot, DateOnly? GoodUntil, bool Quarantined)> lots)
    {
        var tree = TreeOf(kit, catalogue);
        var ofKit = lots.Where(l => tree.Contains(l.Part)).Distinct().ToList();
        var held = ofKit.Select(l => l.Part).ToHashSet();
        return new KitFacts(catalogue.Parts[kit].Number, revision.Number, revision.Fit,
            [.. ofKit.Select(l => new LotFacts(catalogue.Parts[l.Part].Number, l.Lot, l.GoodUntil, catalogue.ElastomersOf(l.Part).Any(e => e.Ages)) { Quarantined = l.Quarantined })],
            tree.Count(p => !held.Contains(p) && !catalogue.Structures.ContainsKey(p)));
    }

    /// <summary>The kit with everything inside it, and what stands in for any of that.</summary>
    static HashSet<PartId> TreeOf(PartId kit, KitCatalogue catalogue)
    {
        var tree = new HashSet<PartId> { kit };
        var waiting = new Queue<PartId>(tree);
        while (waiting.TryDequeue(out var next))
            foreach (var part in (catalogue.Structures.GetValueOrDefault(next)?.Lines.Select(l => l.Part) ?? []).Concat(catalogue.StandIns[next]).Where(tree.Add))
                waiting.Enqueue(part);
        return tree;
    }

    /// <param name="portsRead">Where many pumps of few models are read: what the text of their ports was read as.</param>
    public static PumpFacts PumpOf(DbDataReader row, int at, Dictionary<string, IReadOnlyList<Port>>? portsRead = null) =>
        new(row.GetString(at), row.MaybeWord<Control>(at + 1), row.Maybe<bool>(at + 2), row.Maybe<bool>(at + 3), Ports(row.Text(at + 4), portsRead), []);

    public static PositionFacts PositionOf(DbDataReader row, int at) => new(row.MaybeWord<Zone>(at + 5), row.Text(at + 6), row.Text(at + 7),
        new SupplyFacts(row.MaybeWord<SupplyKind>(at + 8), row.Maybe<decimal>(at + 9), row.Maybe<decimal>(at + 10), row.Maybe<decimal>(at + 11)),
        row.IsDBNull(at + 12) ? null : new FluidFacts(row.GetString(at + 12), row.GetFieldValue<string[]>(at + 13), row.GetFieldValue<string[]>(at + 14), row.Maybe<decimal>(at + 15), row.Maybe<bool>(at + 16)));

    public static FitFacts? FitOf(DbDataReader row, int at) => row.IsDBNull(at + 2) ? null : new FitFacts
    {
        FromControl = row.MaybeWord<Control>(at + 3),
        ConvertsTo = row.Text(at + 4),
        ToControl = row.MaybeWord<Control>(at + 5),
        NeedsSensingRod = row.GetBoolean(at + 6),
        Ports = Ports(row.Text(at + 7)),
        Coil = new CoilFacts(row.MaybeWord<SupplyKind>(at + 8), row.Maybe<decimal>(at + 9), row.Maybe<decimal>(at + 10), row.Maybe<decimal>(at + 11)),
        ExMarking = row.Text(at + 12),
        Materials = row.GetFieldValue<string[]>(at + 13),
        Once = row.GetBoolean(at + 14),
        Requires = row.GetFieldValue<string[]>(at + 15),
        Excludes = row.GetFieldValue<string[]>(at + 16),
    };

    /// <summary>Ports were read before they were kept.</summary>
    static IReadOnlyList<Port> Ports(string? text, Dictionary<string, IReadOnlyList<Port>>? read = null)
    {
        if (text is not null && read?.TryGetValue(text, out var before) == true)
            return before;
        IReadOnlyList<Port> ports = PortList.Parse(text) is { IsDone: true, Value: var parsed } ? parsed : [];
        if (text is not null)
            read?.Add(text, ports);
        return ports;
    }
}

/// <summary>What is fitted to the pump and what its other living orders are to bring.</summary>
internal sealed record SuitabilityCompany(IReadOnlyList<string> Fitted, IReadOnlyList<OtherOrderFacts> OtherOrders);

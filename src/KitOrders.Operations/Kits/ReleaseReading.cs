using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

/// <summary>What the release of a revision is judged by, as it is recorded now.</summary>
internal static class ReleaseReading
{
    public static async Task<ReleaseFacts> Facts(KitOrdersDb db, string kit, KitRevision revision, CancellationToken ct)
    {
        var trip = new Trip(db);
        var asked = KitCatalogue.Ask(trip, [revision.PartId, .. revision.Lines.Select(l => l.PartId).Distinct()]);
        await trip.Send(ct);
        var catalogue = asked();
        var structures = new Dictionary<PartId, KitStructure>(catalogue.Structures) { [revision.PartId] = KitCatalogue.StructureOf(revision) };
        var tree = Tree(revision.PartId, structures);
        var named = revision.Fits.SelectMany(f => f.RequiresKits.Concat(f.ExcludesKits)).Distinct().ToList();
        return new ReleaseFacts(kit, revision, await Parts(db, catalogue, tree, ct), structures.Where(s => tree.Contains(s.Key)).ToDictionary(s => s.Key, s => s.Value),
            await Models(db, revision, ct), (await db.Parts.Where(p => named.Contains(p.Number)).Select(p => p.Number).ToListAsync(ct)).ToHashSet());
    }

    /// <summary>What the revision reaches; the kit's released one may have brought more.</summary>
    static HashSet<PartId> Tree(PartId kit, Dictionary<PartId, KitStructure> structures)
    {
        var tree = new HashSet<PartId> { kit };
        var waiting = new Queue<PartId>(tree);
        while (waiting.TryDequeue(out var part))
            foreach (var line in structures.GetValueOrDefault(part)?.Lines ?? [])
                if (tree.Add(line.Part))
                    waiting.Enqueue(line.Part);
        return tree;
    }

    static async Task<Dictionary<PartId, PartAtRelease>> Parts(KitOrdersDb db, KitCatalogue catalogue, HashSet<PartId> tree, CancellationToken ct)
    {
        const string HasSource = "({0}.lead_time_days is not null or {0}.supplier is not null or exists (select from lot l where l.part_id = {0}.id) or exists (select from incoming i where i.part_id = {0}.id and i.received < i.quantity))";
        var trip = new Trip(db).With("inTree", tree.Select(p => p.Value).ToArray());
        var rows = trip.Ask($"""
            select p.id, p.thread, exists (select from lot l where l.part_id = p.id and l.cured_on is not null),
                   {HasSource.Replace("{0}", "p", StringComparison.Ordinal)} or exists (
                     select from part_alternate a join part o on (a.part_id = p.id and o.id = a.alternate_id) or (a.both_ways and a.alternate_id = p.id and o.id = a.part_id)
                     where {HasSource.Replace("{0}", "o", StringComparison.Ordinal)}),
                   exists (select from kit_revision r where r.part_id = p.id), (select o.number from part o where o.id = p.superseded_by_id)
            from part p where p.id = any(@inTree)
            """, row => (Part: new PartId(row.GetInt32(0)), Thread: row.Text(1), Cured: row.GetBoolean(2), CanBeHad: row.GetBoolean(3), HasRevisions: row.GetBoolean(4), SupersededBy: row.Text(5)));
        await trip.Send(ct);
        return rows.Rows.ToDictionary(r => r.Part, r =>
        {
            var item = catalogue.Parts[r.Part];
            return new PartAtRelease(new PartFact(r.Part, item.Number, item.Unit) { Thread = item.Thread, HandedOutIn = item.HandedOutIn }, item.Description)
            {
                Thread = r.Thread is { } text && PipeThread.Parse(text) is { IsDone: true, Value: var thread } ? thread : null,
                Elastomers = item.Elastomers, HasCureDates = r.Cured, CanBeHad = r.CanBeHad, HasRevisions = r.HasRevisions, LeadTimeDays = item.LeadTimeDays, SupersededBy = r.SupersededBy,
            };
        });
    }

    static async Task<Dictionary<PumpModelId, ModelAtRelease>> Models(KitOrdersDb db, KitRevision revision, CancellationToken ct)
    {
        var ids = revision.Fits.Select(f => f.ModelId).Concat(revision.Fits.Select(f => f.ConvertsToId).OfType<PumpModelId>()).Distinct().ToList();
        var models = await db.PumpModels.AsNoTracking().Where(m => ids.Contains(m.Id)).ToListAsync(ct);
        return models.ToDictionary(m => m.Id, m => new ModelAtRelease(m.Id, m.Code, m.Control,
            m.Ports is { } text && PortList.Parse(text) is { IsDone: true, Value: var ports } ? ports : null));
    }
}

using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Pumps;
using KitOrders.Rules.Stock;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

/// <summary>The current revisions of some kits and of everything inside them, with the parts they name.</summary>
internal sealed record KitCatalogue(
    IReadOnlyDictionary<PartId, KitRevision> Revisions,
    IReadOnlyDictionary<PartId, Part> Parts,
    IReadOnlyDictionary<PartId, KitStructure> Structures,
    IReadOnlyDictionary<PartId, PartFact> PartFacts)
{
    /// <summary>Everything anywhere in the trees of the kits: what an order may ask for, and so what opening it locks.</summary>
    public IEnumerable<PartId> All => Parts.Keys;

    /// <summary>The elastomers of a part, its own and those inside its box.</summary>
    public IReadOnlyList<Elastomer> ElastomersOf(PartId part) => KitElastomers.Of(part, Structures,
        Parts.ToDictionary(p => p.Key, p => Elastomers(p.Value)));

    public static async Task<KitCatalogue> Load(KitOrdersDb db, IEnumerable<PartId> kits, CancellationToken ct)
    {
        var roots = kits.Select(k => k.Value).ToArray();
        var ids = (await db.Database.SqlQuery<int>($"""
            with recursive tree (part_id) as (
              select unnest({roots})
              union
              select l.part_id from tree t
              join kit_revision r on r.part_id = t.part_id and r.state = 'released'
              join kit_line l on l.kit_revision_id = r.id
            )
            select part_id as "Value" from tree
            """).ToListAsync(ct)).ConvertAll(id => new PartId(id));
        var parts = await db.Parts.AsNoTracking().Where(p => ids.Contains(p.Id)).ToDictionaryAsync(p => p.Id, ct);
        var revisions = await db.KitRevisions.AsNoTracking().Include(r => r.Lines).AsSplitQuery()
            .Where(r => ids.Contains(r.PartId) && r.State == RevisionState.Released).ToDictionaryAsync(r => r.PartId, ct);
        var kept = revisions.Values.SelectMany(r => r.Lines).Where(l => l.Source == LineSource.CarriedOver).Select(l => l.PartId).ToHashSet();
        var judged = kept.Count == 0 ? [] : await Judged(db, kept, ct);
        return new KitCatalogue(revisions, parts,
            revisions.ToDictionary(r => r.Key, r => StructureOf(r.Value)),
            parts.ToDictionary(p => p.Key, p => FactOf(p.Value, judged.GetValueOrDefault(p.Key))));
    }

    public static KitStructure StructureOf(KitRevision revision) => new(revision.PartId, revision.Buildable,
        [.. revision.Lines.OrderBy(l => l.Number).Select(l => new KitLineFact(l.Number, l.PartId, l.Quantity, l.Source)
        {
            SparePolicy = l.SparePolicy, RejectRate = l.RejectRate, Wraps = l.Wraps, WrapsFor = l.WrapsFor,
        })]);

    /// <summary>Recorded elastomers were read before they were kept; a code that no longer reads counts as none.</summary>
    public static IReadOnlyList<Elastomer> Elastomers(Part part) =>
        part.Elastomers is { } text && Elastomer.Read(text) is { IsDone: true } read ? read.Value : [];

    static PartFact FactOf(Part part, (int Decisions, int Rejected) judged) => new(part.Id, part.Number, part.Unit)
    {
        HandedOutIn = part.HandedOutIn,
        Decisions = judged.Decisions,
        Rejected = judged.Rejected,
        Thread = part.Thread is { } text && PipeThread.Parse(text) is { IsDone: true, Value: var thread }
            ? new FittingThread(thread.OutsideDiameterMm, thread.IsTaper) : null,
    };

    /// <summary>How often each part kept from a pump was judged, and how often it was rejected; corrected decisions do not count.</summary>
    static async Task<Dictionary<PartId, (int, int)>> Judged(KitOrdersDb db, HashSet<PartId> parts, CancellationToken ct)
    {
        var counts = await (from result in db.StepResults
                            join step in db.OrderSteps on result.OrderStepId equals step.Id
                            where result.Decision != null && step.PartId != null && parts.Contains(step.PartId.Value)
                                && !db.StepResults.Any(later => later.CorrectsId == result.Id)
                            group result by step.PartId!.Value into part
                            select new
                            {
                                Part = part.Key,
                                All = part.Count(),
                                Rejected = part.Count(r => r.Decision == CarryOverDecision.Replace),
                            }).ToListAsync(ct);
        return counts.ToDictionary(c => c.Part, c => (c.All, c.Rejected));
    }
}

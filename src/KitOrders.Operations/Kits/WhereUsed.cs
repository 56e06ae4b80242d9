using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

/// <summary>Where a part, assembly or kit is used.</summary>
public sealed record UsedView
{
    public required string Part { get; init; }
    public required string Description { get; init; }
    public required Unit Unit { get; init; }
    public required bool IsKit { get; init; }

    /// <summary>Kits and assemblies by their current revisions, nearest first.</summary>
    public required IReadOnlyList<HolderView> Holders { get; init; }

    /// <summary>Kits whose draft names it on a line of its own.</summary>
    public required IReadOnlyList<UsedInDraft> Drafts { get; init; }

    /// <summary>Jobs that bring it, by itself or inside a kit.</summary>
    public required IReadOnlyList<UsedByJobView> Jobs { get; init; }

    /// <summary>Released procedures with a step that speaks of it.</summary>
    public required IReadOnlyList<UsedInProcedure> Procedures { get; init; }

    /// <summary>Orders that have not ended and need it.</summary>
    public required int Orders { get; init; }
}

/// <param name="Level">1: a line of its own names the part.</param>
/// <param name="Top">Nothing else holds it.</param>
public sealed record HolderView(string Kit, string Description, int Revision, int Level, bool Top, IReadOnlyList<QuantityUsed> Quantities);

public sealed record UsedInDraft(string Kit, int Revision);

/// <param name="By">The kit that the job brings.</param>
public sealed record UsedByJobView(string Job, string Description, string Procedure, string By, decimal Kits);

public sealed record UsedInProcedure(string Procedure, int Revision, IReadOnlyList<int> Steps);

/// <summary>Looks upwards from a part: the kits and assemblies that hold it at any level, the jobs and procedures, the orders.</summary>
public sealed class WhereUsed(Desk desk)
{
    static readonly OrderState[] Ended = [OrderState.Closed, OrderState.Cancelled];

    public Task<Outcome<UsedView>> Of(string number, CancellationToken ct) => desk.Read<Outcome<UsedView>>(async reading =>
    {
        var db = reading.Db;
        var part = await db.Parts.SingleOrDefaultAsync(p => p.Number == number, ct);
        if (part is null)
            return Refusal.NotFound("part-unknown", $"There is no part {number}. Look it up with Go to.");
        var catalogue = await KitCatalogue.Load(db, await Above(db, part.Id, ct), ct);
        var facts = catalogue.Parts.ToDictionary(p => p.Key, p => new PartFact(p.Key, p.Value.Number, p.Value.Unit) { Thread = p.Value.Thread, HandedOutIn = p.Value.HandedOutIn });
        var used = KitUse.Of(part.Id, catalogue.Structures, facts);
        if (used.Refusal is { } cycle)
            return cycle;
        var holders = used.Value.Select(u => new HolderView(catalogue.Parts[u.Holder].Number, catalogue.Parts[u.Holder].Description, catalogue.Revisions[u.Holder].Number,
            u.Level, u.Top, u.Quantities)).ToList();
        return new UsedView
        {
            Part = part.Number, Description = part.Description, Unit = part.Unit, IsKit = catalogue.Revisions.ContainsKey(part.Id), Holders = holders,
            Drafts = await (from line in db.KitLines
                            join draft in db.KitRevisions on line.KitRevisionId equals draft.Id
                            join kit in db.Parts on draft.PartId equals kit.Id
                            where line.PartId == part.Id && draft.State == RevisionState.Draft
                            select new { kit.Number, Revision = draft.Number }).Distinct().OrderBy(d => d.Number)
                .Select(d => new UsedInDraft(d.Number, d.Revision)).ToListAsync(ct),
            Jobs = await JobsOf(db, [part.Number, .. holders.Select(h => h.Kit)], ct),
            Procedures = await ProceduresOf(db, part.Id, ct),
            Orders = await (from line in db.DemandLines
                            join order in db.WorkOrders on line.OrderId equals order.Id
                            where line.PartId == part.Id && !Ended.Contains(order.State)
                            select order.Id).Distinct().CountAsync(ct),
        };
    }, ct);

    /// <summary>The part and everything that holds it by released revisions. Offset 0 keeps each step to what the last one found.</summary>
    static async Task<IReadOnlyList<PartId>> Above(KitOrdersDb db, PartId part, CancellationToken ct)
    {
        var trip = new Trip(db).With("part", part.Value);
        var rows = trip.Ask("""
            with recursive above (part_id) as (
              select @part
              union
              select r.part_id from above a
              cross join lateral (select l.kit_revision_id from kit_line l where l.part_id = a.part_id offset 0) l
              cross join lateral (select r.part_id from kit_revision r where r.id = l.kit_revision_id and r.state = 'released' offset 0) r
            )
            select part_id from above
            """, row => new PartId(row.GetInt32(0)));
        await trip.Send(ct);
        return rows.Rows;
    }

    static async Task<IReadOnlyList<UsedByJobView>> JobsOf(KitOrdersDb db, List<string> kits, CancellationToken ct) =>
        await (from job in db.Jobs
               from of in job.Kits
               join kit in db.Parts on of.KitPartId equals kit.Id
               join procedure in db.Procedures on job.ProcedureId equals procedure.Id
               where kits.Contains(kit.Number)
               orderby job.Code, kit.Number
               select new UsedByJobView(job.Code, job.Description, procedure.Code, kit.Number, of.Quantity)).ToListAsync(ct);

    static async Task<IReadOnlyList<UsedInProcedure>> ProceduresOf(KitOrdersDb db, PartId part, CancellationToken ct)
    {
        var steps = await (from step in db.ProcedureSteps
                           join revision in db.ProcedureRevisions on step.ProcedureRevisionId equals revision.Id
                           join procedure in db.Procedures on revision.ProcedureId equals procedure.Id
                           where step.PartId == part && revision.State == RevisionState.Released
                           orderby procedure.Code, step.Number
                           select new { procedure.Code, Revision = revision.Number, step.Number }).ToListAsync(ct);
        return [.. steps.GroupBy(s => (s.Code, s.Revision)).Select(g => new UsedInProcedure(g.Key.Code, g.Key.Revision, [.. g.Select(s => s.Number).Distinct()]))];
    }
}

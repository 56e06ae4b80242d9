using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

/// <summary>A draft as it is worked on.</summary>
public sealed record KitDraftView
{
    public required string Kit { get; init; }
    public required string Description { get; init; }
    public required string Currency { get; init; }
    public required int Revision { get; init; }
    public required long Version { get; init; }

    /// <summary>The revision that is current now and would be superseded; null when none is released.</summary>
    public required int? Released { get; init; }

    /// <summary>Orders that have not ended and stay with the released revision.</summary>
    public required IReadOnlyList<string> KeptBy { get; init; }

    /// <summary>Boxed stock on hand, packed as former revisions say.</summary>
    public required decimal Boxed { get; init; }

    public required DraftContent Content { get; init; }

    /// <summary>By number, the parts of its lines.</summary>
    public required IReadOnlyDictionary<string, DraftPart> Parts { get; init; }

    /// <summary>Codes of all pump models.</summary>
    public required IReadOnlyList<string> Models { get; init; }
}

/// <summary>A part as a line shows it.</summary>
/// <param name="Revision">The current revision where it is an assembly.</param>
/// <param name="Inside">What that brings, as a tree.</param>
public sealed record DraftPart(string Part, string Description, Unit Unit, decimal? UnitCost, string? Thread, int? Revision, bool Buildable, IReadOnlyList<KitTreeLine> Inside);

/// <summary>What stands against a draft as it is typed now, and what it changes.</summary>
/// <param name="Difference">Against the released revision; null when there is none.</param>
public sealed record DraftJudgement(IReadOnlyList<ReleaseCheck> Checks, DifferenceView? Difference);

/// <summary>A kit's draft as it is kept, what stands against it as it is typed, and the parts that may go into it.</summary>
public sealed class KitDraft(Desk desk)
{
    static readonly OrderState[] Ended = [OrderState.Closed, OrderState.Cancelled];

    /// <summary>The draft of the kit. Refusals: <c>kit-unknown</c>, <c>draft-unknown</c>.</summary>
    public Task<Outcome<KitDraftView>> One(string kit, CancellationToken ct) => desk.Read<Outcome<KitDraftView>>(async reading =>
    {
        var db = reading.Db;
        var part = await db.Parts.SingleOrDefaultAsync(p => p.Number == kit, ct);
        if (part is null)
            return Refusal.NotFound("kit-unknown", $"There is no kit {kit}. Look it up under Kits, or begin it there.");
        var revisions = await db.KitRevisions.Include(r => r.Lines).Include(r => r.Fits).AsSplitQuery()
            .Where(r => r.PartId == part.Id && r.State != RevisionState.Superseded).ToListAsync(ct);
        if (revisions.Find(r => r.State == RevisionState.Draft) is not { } draft)
            return Refusal.NotFound("draft-unknown", $"Kit {kit} has no draft. Start one from the revision it is to begin with.");
        var released = revisions.Find(r => r.State == RevisionState.Released);
        var content = await DraftReading.ContentOf(db, draft, ct);
        return new KitDraftView
        {
            Kit = kit, Description = part.Description, Currency = reading.Plant.Currency, Revision = draft.Number, Version = draft.Version, Released = released?.Number,
            KeptBy = released is null ? [] : await (from of in db.OrderKits
                                                    join order in db.WorkOrders on of.OrderId equals order.Id
                                                    where of.KitRevisionId == released.Id && !Ended.Contains(order.State)
                                                    orderby order.Id
                                                    select order.Number).ToListAsync(ct),
            Boxed = await db.BinStocks.Where(s => s.PartId == part.Id).SumAsync(s => s.OnHand, ct),
            Content = content,
            Parts = await Pieces(db, draft.Lines.Select(l => l.PartId), ct),
            Models = await db.PumpModels.OrderBy(m => m.Code).Select(m => m.Code).ToListAsync(ct),
        };
    }, ct);

    /// <summary>A part as a line of a kit would show it. Refusal: <c>part-unknown</c>.</summary>
    public Task<Outcome<DraftPart>> Part(string number, CancellationToken ct) => desk.Read<Outcome<DraftPart>>(async reading =>
    {
        var id = await reading.Db.Parts.Where(p => p.Number == number).Select(p => (PartId?)p.Id).SingleOrDefaultAsync(ct);
        return id is { } part ? (await Pieces(reading.Db, [part], ct))[number]
            : Refusal.Field("part", "part-unknown", $"There is no part {number}. Look it up by its words, or import it first.");
    }, ct);

    /// <summary>Judges what is typed, kept or not. Refusals: those of the kit, and <c>draft-values</c> where a field could not be kept at all.</summary>
    public Task<Outcome<DraftJudgement>> Judge(string kit, int revision, DraftContent content, CancellationToken ct) => desk.Read<Outcome<DraftJudgement>>(async reading =>
    {
        var db = reading.Db;
        var part = await db.Parts.SingleOrDefaultAsync(p => p.Number == kit, ct);
        if (part is null)
            return Refusal.NotFound("kit-unknown", $"There is no kit {kit}.");
        var read = await DraftReading.Read(db, part.Id, revision, content, ct);
        if (read.Refusal is { } refused)
            return refused;
        var released = await db.KitRevisions.Include(r => r.Lines).Include(r => r.Fits).AsSplitQuery()
            .SingleOrDefaultAsync(r => r.PartId == part.Id && r.State == RevisionState.Released, ct);
        return new DraftJudgement(KitRelease.Judge(await ReleaseReading.Facts(db, kit, read.Value, ct)),
            released is null ? null : await DifferenceReading.Of(db, released, read.Value, ct));
    }, ct);

    static async Task<Dictionary<string, DraftPart>> Pieces(KitOrdersDb db, IEnumerable<PartId> parts, CancellationToken ct)
    {
        var ids = parts.Distinct().ToList();
        var trees = await KitTreeReading.Load(db, ids, ct);
        var threads = await db.Parts.Where(p => ids.Contains(p.Id)).Select(p => new { p.Id, p.Thread }).ToDictionaryAsync(p => p.Id, p => p.Thread, ct);
        return ids.Select(id =>
        {
            var (item, current) = (trees.Item(id), trees.Current(id));
            return new DraftPart(item.Number, item.Description, item.Unit, trees.Cost(id), threads[id], current?.Number, current?.Structure.Buildable ?? false,
                current is null ? [] : trees.Of(current.Structure));
        }).ToDictionary(p => p.Part);
    }
}

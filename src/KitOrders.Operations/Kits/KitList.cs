using KitOrders.Operations.Orders;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

/// <param name="Revision">The released revision; null when none is.</param>
/// <param name="Drafted">The draft that is being written; null when there is none.</param>
/// <param name="Jobs">Jobs that use it.</param>
/// <param name="OpenOrders">Orders that use it and have not ended.</param>
/// <param name="Boxed">Free boxed stock.</param>
public sealed record KitRow(string Kit, string Description, int? Revision, DateOnly? ReleasedOn, int? Drafted, bool Buildable, int Lines,
    int Models, IReadOnlyList<string> Jobs, int OpenOrders, decimal Boxed);

/// <summary>Everything with a bill of materials: kits that orders use and assemblies inside them.</summary>
public sealed class KitList(Desk desk)
{
    static readonly OrderState[] Ended = [OrderState.Closed, OrderState.Cancelled];

    /// <param name="assemblies">Also what no job uses by itself.</param>
    public Task<IReadOnlyList<KitRow>> Find(string? search, bool assemblies, CancellationToken ct) => desk.Read<IReadOnlyList<KitRow>>(async reading =>
    {
        var db = reading.Db;
        var parts = db.Parts.Where(p => db.KitRevisions.Any(r => r.PartId == p.Id));
        if (!assemblies)
            parts = parts.Where(p => db.KitFits.Any(f => db.KitRevisions.Any(r => r.Id == f.KitRevisionId && r.PartId == p.Id)) || db.Jobs.Any(j => j.Kits.Any(k => k.KitPartId == p.Id)));
        if (!string.IsNullOrWhiteSpace(search))
        {
            var like = OrderList.Like(search);
            parts = parts.Where(p => EF.Functions.ILike(p.Number, like) || EF.Functions.ILike(p.Description, like));
        }
        var rows = await parts.OrderBy(p => p.Number).Select(p => new
        {
            p.Id, p.Number, p.Description,
            Orders = db.OrderKits.Count(k => k.KitPartId == p.Id && db.WorkOrders.Any(o => o.Id == k.OrderId && !Ended.Contains(o.State))),
            Boxed = db.BinStocks.Where(s => s.PartId == p.Id).Sum(s => s.OnHand - s.Reserved),
        }).ToListAsync(ct);
        var ids = rows.Select(r => r.Id).ToList();
        var revisions = (await db.KitRevisions.Where(r => ids.Contains(r.PartId) && r.State != RevisionState.Superseded)
            .Select(r => new { r.PartId, r.Number, r.State, r.ReleasedOn, r.Buildable, Lines = r.Lines.Count, Models = r.Fits.Count }).ToListAsync(ct)).ToLookup(r => r.PartId);
        var jobs = (await db.Jobs.SelectMany(j => j.Kits, (j, k) => new { k.KitPartId, j.Code }).ToListAsync(ct)).ToLookup(j => j.KitPartId, j => j.Code);
        return [.. rows.Select(r =>
        {
            var current = revisions[r.Id].SingleOrDefault(v => v.State == RevisionState.Released);
            var draft = revisions[r.Id].OrderByDescending(v => v.Number).FirstOrDefault(v => v.State == RevisionState.Draft);
            return new KitRow(r.Number, r.Description, current?.Number, current?.ReleasedOn, draft?.Number, current?.Buildable ?? false,
                current?.Lines ?? 0, current?.Models ?? 0, [.. jobs[r.Id].Order(StringComparer.Ordinal)], r.Orders, r.Boxed);
        })];
    }, ct);
}

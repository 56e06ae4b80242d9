using KitOrders.Rules.Parts;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Parts;

/// <summary>What may stand in for some parts, with the parts themselves.</summary>
internal sealed class PartStandIns(IReadOnlyList<PartAlternate> approved, IReadOnlyDictionary<PartId, PartId> supersededBy, IReadOnlyDictionary<PartId, Part> parts)
{
    public IReadOnlyList<StandIn> Of(PartId part) => StandIns.Of(part, approved, supersededBy);

    public Part Part(PartId id) => parts[id];

    public string NumberOf(PartId id) => parts[id].Number;

    /// <summary>Number of the part that takes this one's place for good; null when none does.</summary>
    public string? SupersededBy(PartId part) => supersededBy.TryGetValue(part, out var next) ? parts[next].Number : null;

    /// <summary>The approval by which the other part may stand in; null where it supersedes the part only.</summary>
    public PartAlternate? Approval(PartId part, PartId other) =>
        approved.FirstOrDefault(a => a.PartId == part && a.AlternateId == other) ?? approved.FirstOrDefault(a => a.BothWays && a.AlternateId == part && a.PartId == other);

    public static async Task<PartStandIns> Of(KitOrdersDb db, IReadOnlyCollection<PartId> parts, CancellationToken ct)
    {
        var approved = await db.PartAlternates.AsNoTracking().Where(a => parts.Contains(a.PartId) || (a.BothWays && parts.Contains(a.AlternateId))).ToListAsync(ct);
        var supersededBy = await Supersessions(db, ct);
        var named = parts.SelectMany(p => StandIns.Chain(p, supersededBy)).Concat(approved.SelectMany(a => new[] { a.PartId, a.AlternateId })).Distinct().ToList();
        return new PartStandIns(approved, supersededBy, await db.Parts.AsNoTracking().Where(p => named.Contains(p.Id)).ToDictionaryAsync(p => p.Id, ct));
    }

    /// <summary>All of them: a plant has few, and a chain cannot be followed otherwise.</summary>
    static Task<Dictionary<PartId, PartId>> Supersessions(KitOrdersDb db, CancellationToken ct) =>
        db.Parts.Where(p => p.SupersededById != null).Select(p => new { p.Id, By = p.SupersededById!.Value }).ToDictionaryAsync(p => p.Id, p => p.By, ct);

    /// <summary>The parts of a list that something supersedes, with the number of what does.</summary>
    public static Task<Dictionary<PartId, string>> SupersededAmong(KitOrdersDb db, IReadOnlyCollection<PartId> parts, CancellationToken ct) =>
        (from part in db.Parts
         join next in db.Parts on part.SupersededById equals next.Id
         where parts.Contains(part.Id)
         select new { part.Id, next.Number }).ToDictionaryAsync(p => p.Id, p => p.Number, ct);
}

using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Parts;

/// <param name="BothWays">The part may stand in for the alternate as well.</param>
public sealed record AlternateApproval(string Alternate, int Preference = 1, bool BothWays = false);

/// <summary>Approves a part to stand in for another one where that is short, or changes its preference. Nothing uses it by itself.</summary>
public sealed class ApproveAlternate(Desk desk)
{
    public const int LeastPreferred = 999;

    public Task<Outcome<string>> Run(Call call, string number, AlternateApproval given, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "approve-alternate", async work =>
        {
            if (given.Preference is < 1 or > LeastPreferred)
                return Refusal.Field("preference", "preference-out-of-range", $"The preference is a whole number from 1, the first choice, to {LeastPreferred}.");
            var found = await BothParts.Find(work, number, given.Alternate, "alternate");
            if (found.Refusal is { } refusal)
                return refusal;
            var (part, alternate) = found.Value;
            if (part.Id == alternate.Id)
                return Refusal.Field("alternate", "alternate-of-itself", $"Part {part.Number} cannot stand in for itself. Name another part.");
            if (BothParts.UnitsDiffer(part, alternate, "alternate") is { } units)
                return units;
            var row = await work.Db.PartAlternates.SingleOrDefaultAsync(a => a.PartId == part.Id && a.AlternateId == alternate.Id, ct);
            if (row is null)
                work.Db.PartAlternates.Add(row = new PartAlternate { PartId = part.Id, AlternateId = alternate.Id });
            (row.Preference, row.BothWays) = (given.Preference, given.BothWays);
            work.Audit($"part {part.Number}", $"Alternate {alternate.Number} approved, preference {given.Preference}, {(given.BothWays ? "both ways" : "one way")}.");
            work.Changed($"part:{part.Number}");
            work.Changed($"part:{alternate.Number}");
            return part.Number;
        }, ct);
}

/// <summary>Takes an approval back. What already stands in on an order stays.</summary>
public sealed class DropAlternate(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, string alternate, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "drop-alternate", async work =>
        {
            var found = await BothParts.Find(work, number, alternate, "alternate");
            if (found.Refusal is { } refusal)
                return refusal;
            var (part, other) = found.Value;
            if (await work.Db.PartAlternates.Where(a => a.PartId == part.Id && a.AlternateId == other.Id).ExecuteDeleteAsync(ct) == 0)
                return Refusal.Conflict("alternate-not-approved", $"{other.Number} is not approved to stand in for {part.Number}. Nothing was changed; load again.");
            work.Audit($"part {part.Number}", $"Alternate {other.Number} is not approved any more.");
            work.Changed($"part:{part.Number}");
            work.Changed($"part:{other.Number}");
            return part.Number;
        }, ct);
}

/// <summary>
/// Says which part takes this one's place for good, or that none does. What is left of it is used first; where it is short,
/// its successor is offered.
/// </summary>
public sealed class SupersedePart(Desk desk)
{
    // Two supersessions at one time could close a circle that neither sees.
    internal const string OneAtATime = "lock table part in share row exclusive mode";

    /// <param name="successor">Null: nothing supersedes the part any more.</param>
    public Task<Outcome<string>> Run(Call call, string number, string? successor, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner, "supersede-part", async work =>
        {
            await work.Db.Database.ExecuteSqlRawAsync(OneAtATime, ct);
            var found = await BothParts.Find(work, number, string.IsNullOrWhiteSpace(successor) ? number : successor.Trim(), "successor");
            if (found.Refusal is { } refusal)
                return refusal;
            var (part, next) = found.Value;
            var none = string.IsNullOrWhiteSpace(successor);
            if (!none && BothParts.UnitsDiffer(part, next, "successor") is { } units)
                return units;
            if (!none && StandIns.RefuseCircle(part.Number, await With(work, part.Number, next.Number)) is { } circle)
                return circle.At("successor");
            var kept = await work.Db.Parts.SingleAsync(p => p.Id == part.Id, ct);
            if (none && kept.SupersededById is null)
                return Refusal.Conflict("not-superseded", $"Nothing supersedes {part.Number}.");
            kept.SupersededById = none ? null : next.Id;
            work.Audit($"part {part.Number}", none ? "Superseded by nothing any more." : $"Superseded by {next.Number}.");
            work.Changed($"part:{part.Number}");
            if (!none)
                work.Changed($"part:{next.Number}");
            return part.Number;
        }, ct);

    static async Task<Dictionary<string, string>> With(Work work, string part, string successor)
    {
        var all = await Numbers(work);
        all[part] = successor;
        return all;
    }

    /// <summary>Every supersession on record, by numbers.</summary>
    internal static Task<Dictionary<string, string>> Numbers(Work work) =>
        (from p in work.Db.Parts
         join s in work.Db.Parts on p.SupersededById equals s.Id
         select new { Part = p.Number, By = s.Number }).ToDictionaryAsync(p => p.Part, p => p.By, work.Ct);
}

/// <summary>Two parts by what stands on their labels.</summary>
internal static class BothParts
{
    public static async Task<Outcome<(Part, Part)>> Find(Work work, string number, string? other, string field)
    {
        var part = await StockLookup.Part(work.Db, number, work.Ct);
        if (part.Refusal is { } unknown)
            return unknown;
        var second = await StockLookup.Part(work.Db, other?.Trim(), work.Ct);
        return second.Refusal is { } noOther ? noOther.At(field) : (part.Value, second.Value);
    }

    public static Refusal? UnitsDiffer(Part part, Part other, string field) => part.Unit == other.Unit ? null : Refusal.Field(field, "alternate-unit",
        $"{part.Number} is counted in {Word.Of(part.Unit)}, {other.Number} in {Word.Of(other.Unit)}. One stands in for the other only in the same unit.");
}

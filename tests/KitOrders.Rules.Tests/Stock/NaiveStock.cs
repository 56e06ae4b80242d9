using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;

namespace KitOrders.Rules.Tests.Stock;

/// <summary>
/// The rules of netting and holding once more, written to be read and not to be quick: the ways are other ones than the
/// product's, so that the two do not share a mistake.
/// </summary>
static class NaiveStock
{
    /// <summary>Piece by piece: the smallest step of a quantity goes to the first lot that may be used, looked for anew each time.</summary>
    public static Dictionary<(int Line, LotId Lot, BinId Bin), decimal> Cover(IEnumerable<Wanting> lines, IEnumerable<LotBalance> balances, decimal piece)
    {
        var free = balances.ToDictionary(b => b, b => b.Free);
        var held = new Dictionary<(int, LotId, BinId), decimal>();
        foreach (var line in lines)
        {
            for (var got = 0m; got < line.Quantity; got += piece)
            {
                LotBalance? best = null;
                foreach (var one in free.Where(f => f.Value > 0).Select(f => f.Key))
                    if (one.Part == line.Part && MayBeUsed(one, line.FitOn) && (best is null || Before(one, free[one], best, free[best])))
                        best = one;
                if (best is null)
                    break;
                free[best] -= piece;
                held[(line.Line.Value, best.Lot, best.Bin)] = held.GetValueOrDefault((line.Line.Value, best.Lot, best.Bin)) + piece;
            }
        }
        return held;
    }

    static bool MayBeUsed(LotBalance one, DateOnly day) => !one.Quarantined && (one.ExpiresOn is null || one.ExpiresOn.Value.DayNumber >= day.DayNumber);

    static bool Before(LotBalance one, decimal oneFree, LotBalance other, decimal otherFree)
    {
        if (one.ExpiresOn != other.ExpiresOn)
            return one.ExpiresOn is { } a && (other.ExpiresOn is not { } b || a < b);
        if (one.ReceivedOn != other.ReceivedOn)
            return one.ReceivedOn < other.ReceivedOn;
        if (oneFree != otherFree)
            return oneFree < otherFree;
        var byNumber = string.CompareOrdinal(one.LotNumber, other.LotNumber);
        return byNumber != 0 ? byNumber < 0 : one.WalkOrder < other.WalkOrder;
    }

    /// <summary>One line of demand: gross, built, covered.</summary>
    public readonly record struct Need(decimal Gross, decimal Built, decimal Covered);

    /// <summary>
    /// Netting without levels: what every part is asked for is worked out again and again from what its parents were last found
    /// to build, until nothing changes any more. For kits whose spares are all or none and whose supply is counted.
    /// </summary>
    public static Dictionary<(PartId, LineSource), Need> Net(ExplosionFacts facts)
    {
        var now = new Dictionary<(PartId, LineSource), Need>();
        var inside = new Dictionary<PartId, decimal>();
        while (true)
        {
            var asked = new Dictionary<(PartId, LineSource), decimal>();
            var boxed = new Dictionary<PartId, decimal>();
            foreach (var kit in facts.Kits)
                Add(asked, (kit.Kit, LineSource.InTheBox), kit.Quantity);
            foreach (var kit in facts.Structures.Values)
            {
                var built = now.Where(n => n.Key.Item1 == kit.Kit).Sum(n => n.Value.Built);
                var all = now.Where(n => n.Key.Item1 == kit.Kit).Sum(n => n.Value.Gross) + inside.GetValueOrDefault(kit.Kit);
                foreach (var line in kit.Lines)
                {
                    if (line.Source == LineSource.InTheBox)
                    {
                        Add(asked, (line.Part, line.Source), line.Quantity * built);
                        Add(boxed, line.Part, line.Quantity * (all - built));
                    }
                    else if (line.Source != LineSource.CarriedOver || line.SparePolicy == SparePolicy.All)
                    {
                        Add(asked, (line.Part, line.Source), line.Quantity * all);
                    }
                }
            }
            var next = asked.GroupBy(a => a.Key.Item1).SelectMany(p => Shared(p, facts)).ToDictionary(n => n.Key, n => n.Need);
            if (Same(now, next) && Same(inside, boxed))
                return now;
            (now, inside) = (next, boxed);
        }
    }

    static IEnumerable<((PartId, LineSource) Key, Need Need)> Shared(IGrouping<PartId, KeyValuePair<(PartId, LineSource), decimal>> part, ExplosionFacts facts)
    {
        var free = facts.Free.GetValueOrDefault(part.Key);
        var buildable = facts.Structures.TryGetValue(part.Key, out var kit) && kit.Buildable;
        foreach (var source in new[] { LineSource.InTheBox, LineSource.BoughtSeparately, LineSource.ShopSupply, LineSource.CarriedOver })
        {
            var gross = part.Where(a => a.Key.Item2 == source).Sum(a => a.Value);
            var covered = Math.Min(gross, free);
            free -= covered;
            if (gross > 0)
                yield return ((part.Key, source), new Need(gross, buildable ? gross - covered : 0, covered));
        }
    }

    static void Add<T>(Dictionary<T, decimal> to, T key, decimal quantity) where T : notnull
    {
        if (quantity != 0)
            to[key] = to.GetValueOrDefault(key) + quantity;
    }

    static bool Same<TKey, TValue>(Dictionary<TKey, TValue> one, Dictionary<TKey, TValue> other) where TKey : notnull =>
        one.Count == other.Count && one.All(o => other.TryGetValue(o.Key, out var value) && Equals(o.Value, value));
}

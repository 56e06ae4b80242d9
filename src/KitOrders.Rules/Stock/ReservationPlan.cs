using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;

namespace KitOrders.Rules.Stock;

/// <summary>A quantity to hold of one lot in one bin.</summary>
public readonly record struct Take(LotId Lot, BinId Bin, decimal Quantity);

/// <summary>A demand line that wants stock of a part that is usable on its order's planned fit date.</summary>
public readonly record struct Wanting(DemandLineId Line, PartId Part, decimal Quantity, DateOnly FitOn);

/// <summary>A quantity of a lot to be held for a demand line.</summary>
public readonly record struct Hold(DemandLineId Line, Take Take);

/// <summary>Which lots are held for which lines: first expiry, first out, partially where there is not enough.</summary>
public static class ReservationPlan
{
    /// <summary>What to take of one part; less than needed when no more is free and usable on the fit date.</summary>
    public static IReadOnlyList<Take> Allocate(decimal needed, DateOnly fitOn, IEnumerable<LotBalance> balances)
    {
        var takes = new List<Take>();
        foreach (var balance in balances.Where(b => b.Free > 0 && b.UsableOn(fitOn)).Order(Comparer<LotBalance>.Create(LotBalance.FirstOut)))
        {
            if (needed <= 0)
            {
                break;
            }

            var quantity = Math.Min(needed, balance.Free);
            takes.Add(new Take(balance.Lot, balance.Bin, quantity));
            needed -= quantity;
        }

        return takes;
    }

    /// <summary>
    /// Serves waiting lines one after the other from what is free, each with lots usable on its own fit date. The same rule
    /// reserves for an order that is being opened (its lines in the order of their sources) and covers waiting shortages when
    /// stock is added or freed (lines in the order of priority).
    /// </summary>
    public static IReadOnlyList<Hold> CoverShortages(IEnumerable<Wanting> lines, IEnumerable<LotBalance> balances)
    {
        var shelf = Shelf.Of(balances);
        var holds = new List<Hold>();
        foreach (var line in lines)
        {
            shelf.Take(line.Part, line.Quantity, line.FitOn, (balance, quantity) => holds.Add(new Hold(line.Line, new Take(balance.Lot, balance.Bin, quantity))));
        }

        return holds;
    }
}

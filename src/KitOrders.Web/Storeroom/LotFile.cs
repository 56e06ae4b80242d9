using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Web.Api;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Storeroom;

/// <summary>Where a lot is, as a file: a row for every pump, order and bin that has some of it.</summary>
static class LotFile
{
    public static async Task<IResult> Get(LotTrace trace, string? lot, CancellationToken ct)
    {
        var found = await trace.Find(lot, ct);
        return found.Refusal is { } refusal ? Problem.Of(refusal)
            : Csv.File("lot.csv", [.. "part lot where name serial state place quantity reserved since order quarantine".Split(' ')], found.Value.SelectMany(Rows));
    }

    static IEnumerable<IReadOnlyList<object?>> Rows(TracedLot l) =>
    [
        .. l.Pumps.Select(p => (IReadOnlyList<object?>)[l.Part, l.Lot, "pump", p.Tag ?? "store", p.Serial, null, p.Area, p.Quantity, null, p.Since, p.Order, l.Quarantine]),
        .. l.Orders.Select(o => (IReadOnlyList<object?>)[l.Part, l.Lot, "order", o.Tag, null, Word.Of(o.State), o.Place, o.InHand, o.Reserved, null, o.Order, l.Quarantine]),
        .. l.Shelves.Select(s => (IReadOnlyList<object?>)[l.Part, l.Lot, "bin", s.Bin, null, null, null, s.OnHand, s.Reserved, null, null, l.Quarantine]),
    ];
}

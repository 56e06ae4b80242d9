using KitOrders.Operations.Kits;
using KitOrders.Operations.Stock;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;

namespace KitOrders.Operations.Orders;

/// <summary>What a draft is opened against, with its parts and then the order itself locked: nobody changes it before the commit.</summary>
internal sealed record StockForOrder(
    OrderState State, long Version, KitCatalogue Catalogue, IReadOnlyList<LotBalance> Shelves, IReadOnlyDictionary<PartId, decimal?> UnitCosts,
    IReadOnlyDictionary<PartId, (int Decisions, int Rejected)> CarriedOver, SuitabilityCompany Company, IReadOnlySet<(Check, string)> Answered)
{
    public static async Task<StockForOrder> Lock(Work work, DraftToOpen draft)
    {
        var tree = await Tree(work, [.. draft.Kits.Select(k => k.Kit)]);
        var kept = tree.Values.SelectMany(r => r?.Structure.Lines ?? []).Where(l => l.Source == LineSource.CarriedOver).Select(l => l.Part.Value).Distinct().ToArray();
        var trip = new Trip(work.Db).With("order", (int?)draft.Id.Value).With("pump", draft.Pump.Value);
        var parts = StockLedger.AskLock(trip, tree.Keys);
        var order = trip.Ask($"""
            select o.state, o.version, array(select c."check" || ' ' || c.kit from order_check c where c.order_id = o.id and c.answer is not null and lower(c.answer) <> '{AnswerCheck.SaysNo}')
            from work_order o where o.id = @order for no key update
            """, row => (State: row.Word<OrderState>(0), Version: row.GetInt64(1), Answered: row.GetFieldValue<string[]>(2)));
        var shelves = Stock.Shelves.AskFree(trip);
        var carried = CarryOverRecord.Ask(trip, kept);
        var company = SuitabilityReading.AskCompany(trip);
        await trip.Send(work.Ct);
        if (parts.Rows.Where(p => p.Current != tree[p.Item.Id]?.Id).Select(p => p.Item.Id).ToList() is { Count: > 0 } moved)
        {
            work.Trees.Forget(moved);
            throw new TreeMoved();
        }
        var revisions = tree.Where(p => p.Value is not null).ToDictionary(p => p.Key, p => p.Value!);
        return new StockForOrder(order.Rows[0].State, order.Rows[0].Version, new KitCatalogue(revisions, parts.Rows.ToDictionary(p => p.Item.Id, p => p.Item)),
            shelves.Rows, parts.Rows.ToDictionary(p => p.Item.Id, p => p.AverageCost ?? p.Item.UnitCost), carried(), company(),
            order.Rows[0].Answered.Select(AnswerCheck.Read).ToHashSet());
    }

    static async Task<IReadOnlyDictionary<PartId, CurrentRevision?>> Tree(Work work, IReadOnlyList<PartId> kits)
    {
        if (work.Trees.Below(kits) is { } known)
            return known;
        work.Trees.Learn(await KitCatalogue.Load(work.Db, kits, work.Ct));
        return work.Trees.Below(kits) ?? throw new TreeMoved();
    }
}

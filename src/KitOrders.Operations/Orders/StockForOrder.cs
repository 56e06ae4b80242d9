using KitOrders.Operations.Kits;
using KitOrders.Operations.Stock;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;

namespace KitOrders.Operations.Orders;

/// <summary>What a draft is opened against, with its parts and then the order itself locked: nobody changes it before the commit.</summary>
internal sealed record StockForOrder(
    OrderState State, long Version, IReadOnlyList<LotBalance> Shelves, IReadOnlyDictionary<PartId, decimal?> AverageCosts,
    IReadOnlyDictionary<PartId, (int Decisions, int Rejected)> CarriedOver, SuitabilityCompany Company, HashSet<(Check, string)> Answered)
{
    public static async Task<StockForOrder> Lock(Work work, DraftToOpen draft)
    {
        var trip = new Trip(work.Db).With("order", (int?)draft.Id.Value).With("pump", draft.Pump.Value);
        var costs = StockLedger.AskLock(trip, draft.Catalogue.All);
        var order = trip.Ask("select state, version from work_order where id = @order for no key update",
            row => (State: row.Word<OrderState>(0), Version: row.GetInt64(1)));
        var shelves = Stock.Shelves.AskFree(trip);
        var carried = CarryOverRecord.Ask(trip, draft.Catalogue.Kept);
        var company = SuitabilityReading.AskCompany(trip);
        var answers = trip.Ask("""select "check", kit, answer from order_check where order_id = @order and answer is not null""",
            row => (Check: row.Word<Check>(0), Kit: row.GetString(1), Answer: row.GetString(2)));
        await trip.Send(work.Ct);
        return new StockForOrder(order.Rows[0].State, order.Rows[0].Version, shelves.Rows, costs.Rows.ToDictionary(c => c.Part, c => c.AverageCost), carried(),
            company(), [.. answers.Rows.Where(a => AnswerCheck.Allows(a.Answer)).Select(a => (a.Check, a.Kit))]);
    }
}

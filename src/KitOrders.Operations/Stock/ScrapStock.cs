using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;

namespace KitOrders.Operations.Stock;

public sealed record Scrap(string Part, string Bin, string Lot, decimal Quantity, string Reason);

public sealed record ScrapAnswer(string Part, string Lot, string Bin, decimal Quantity, decimal OnHand);

/// <summary>Writes free stock off the shelf, for a reason.</summary>
public sealed class ScrapStock(Desk desk)
{
    public Task<Outcome<ScrapAnswer>> Run(Call call, Scrap scrap, CancellationToken ct) =>
        desk.Write<ScrapAnswer>(call, Roles.Storeroom, "scrap-stock", async work =>
        {
            var found = await StockPlace.Find(work, scrap.Part, scrap.Lot, scrap.Bin);
            if (found.Refusal is { } nowhere)
                return nowhere;
            var (part, lot, bin) = found.Value;
            if (StockQuantity.Refuse(scrap.Quantity, part.Unit) is { } noQuantity)
                return noQuantity;
            if (string.IsNullOrWhiteSpace(scrap.Reason))
                return Refusal.Field("reason", "reason-missing", "Say why it is scrapped.");
            var ledger = new StockLedger(work);
            await ledger.Lock([part.Id]);
            if (await found.Value.NotFree(work, scrap.Quantity, "scrapped") is { } notFree)
                return notFree;
            var costs = await UnitCosts.Of(work.Db, [part.Id], ct);
            await ledger.Post([new StockEntry(part.Id, lot.Id, bin.Id)
            {
                Kind = MovementKind.Scrap, OnHand = -scrap.Quantity, Reason = scrap.Reason.Trim(), UnitCost = costs[part.Id],
            }]);
            work.Audit($"part {part.Number}, lot {lot.Number}", $"Scrapped {scrap.Quantity:0.####} from bin {bin.Code}: {scrap.Reason.Trim()}");
            work.Changed($"part:{part.Number}");
            return new ScrapAnswer(part.Number, lot.Number, bin.Code, scrap.Quantity, (await StockPlace.Balance(work, lot, bin)).OnHand);
        }, ct);
}

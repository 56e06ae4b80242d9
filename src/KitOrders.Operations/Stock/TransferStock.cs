using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;

namespace KitOrders.Operations.Stock;

/// <param name="From">Bin that it leaves.</param>
/// <param name="To">Bin that it comes to.</param>
public sealed record Transfer(string Part, string Lot, string From, string To, decimal Quantity);

public sealed record TransferAnswer(string Part, string Lot, string From, string To, decimal Quantity, decimal OnHandFrom, decimal OnHandTo);

/// <summary>Puts free stock into another bin. What orders hold stays where their pick lists say.</summary>
public sealed class TransferStock(Desk desk)
{
    public Task<Outcome<TransferAnswer>> Run(Call call, Transfer transfer, CancellationToken ct) =>
        desk.Write<TransferAnswer>(call, Roles.Storeroom, "transfer-stock", async work =>
        {
            var found = await StockPlace.Find(work, transfer.Part, transfer.Lot, transfer.From, "from");
            if (found.Refusal is { } nowhere)
                return nowhere;
            var (part, lot, from) = found.Value;
            var target = await StockLookup.Bin(work.Db, transfer.To, ct, "to");
            if (target.Refusal is { } noBin)
                return noBin;
            var to = target.Value;
            if (to.Id == from.Id)
                return Refusal.Field("to", "same-bin", $"It lies in {from.Code} already. Name another bin.");
            if (StockQuantity.Refuse(transfer.Quantity, part.Unit) is { } noQuantity)
                return noQuantity;
            var ledger = new StockLedger(work);
            await ledger.Lock([part.Id]);
            if (await found.Value.NotFree(work, transfer.Quantity, "moved") is { } notFree)
                return notFree;
            await ledger.Post([
                new StockEntry(part.Id, lot.Id, from.Id) { Kind = MovementKind.Transfer, OnHand = -transfer.Quantity, Reason = $"to {to.Code}" },
                new StockEntry(part.Id, lot.Id, to.Id) { Kind = MovementKind.Transfer, OnHand = transfer.Quantity, Reason = $"from {from.Code}" },
            ]);
            work.Audit($"part {part.Number}, lot {lot.Number}", $"Moved {transfer.Quantity:0.####} from bin {from.Code} to {to.Code}.");
            work.Changed($"part:{part.Number}");
            return new TransferAnswer(part.Number, lot.Number, from.Code, to.Code, transfer.Quantity,
                (await StockPlace.Balance(work, lot, from)).OnHand, (await StockPlace.Balance(work, lot, to)).OnHand);
        }, ct);
}

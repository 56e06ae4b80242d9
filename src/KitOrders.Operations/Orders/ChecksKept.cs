using System.Text.Json;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Storage;

namespace KitOrders.Operations.Orders;

/// <summary>How the list of checks is kept with an order; the answers people gave stay beside it.</summary>
internal static class ChecksKept
{
    public static void Write(KitOrdersDb db, OrderId order, IReadOnlyList<Judgement> judgements, Dictionary<(Check, string), OrderCheck> kept)
    {
        foreach (var judgement in judgements)
        {
            if (!kept.TryGetValue((judgement.Check, judgement.Kit), out var row))
                db.OrderChecks.Add(row = new OrderCheck { OrderId = order, Check = judgement.Check, Kit = judgement.Kit });
            row.Result = judgement.Result;
            row.Reason = judgement.Reason;
            row.Numbers = JsonSerializer.Serialize(new Kept(judgement.Finding.Numbers, judgement.Finding.OnCondition,
                judgement.Finding.Answerable, judgement.Finding.Caution), Json.Options);
        }
    }

    public static Kept Read(OrderCheck row) => row.Numbers is null
        ? new Kept(new Dictionary<string, decimal>(), false, false, null)
        : JsonSerializer.Deserialize<Kept>(row.Numbers, Json.Options)!;

    /// <summary>What stands behind a check's sentence.</summary>
    internal sealed record Kept(IReadOnlyDictionary<string, decimal> Numbers, bool OnCondition, bool Answerable, string? Caution);
}

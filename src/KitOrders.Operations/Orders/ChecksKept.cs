using System.Text.Json;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;

namespace KitOrders.Operations.Orders;

/// <summary>How the list of checks is kept with an order; the answers people gave stay beside it.</summary>
internal static class ChecksKept
{
    public static void Write(Trip trip, OrderId order, IReadOnlyList<Judgement> judgements) => trip
        .With("judgedOrder", order.Value)
        .With("judgedKits", judgements.Select(j => j.Kit).ToArray()).With("judgedChecks", judgements.Select(j => Word.Of(j.Check)).ToArray())
        .With("judgedResults", judgements.Select(j => Word.Of(j.Result)).ToArray()).With("judgedReasons", judgements.Select(j => j.Reason).ToArray())
        .With("judgedNumbers", judgements.Select(j => JsonSerializer.Serialize(new Kept(j.Finding.Numbers, j.Finding.OnCondition,
            j.Finding.Answerable, j.Finding.Caution), Json.Options)).ToArray())
        .Tell("""
            insert into order_check (order_id, kit, "check", result, reason, numbers)
            select @judgedOrder, kit, judged, result, reason, numbers::jsonb
            from unnest(@judgedKits, @judgedChecks, @judgedResults, @judgedReasons, @judgedNumbers) t(kit, judged, result, reason, numbers)
            on conflict (order_id, kit, "check") do update set result = excluded.result, reason = excluded.reason, numbers = excluded.numbers
            """);

    public static Kept Read(OrderCheck row) => row.Numbers is null
        ? new Kept(new Dictionary<string, decimal>(), false, false, null)
        : JsonSerializer.Deserialize<Kept>(row.Numbers, Json.Options)!;

    /// <summary>What stands behind a check's sentence.</summary>
    internal sealed record Kept(IReadOnlyDictionary<string, decimal> Numbers, bool OnCondition, bool Answerable, string? Caution);
}

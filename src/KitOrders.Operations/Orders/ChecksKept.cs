using System.Text.Json;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;

namespace KitOrders.Operations.Orders;

/// <summary>How the list of checks is kept with an order; the answers people gave stay beside it.</summary>
internal static class ChecksKept
{
    /// <summary>Once more for an order that was judged when it opened.</summary>
    public static void Write(Trip trip, OrderId order, IReadOnlyList<Judgement> judgements) => Write(trip, order, judgements.Select(KeptOf));

    public static void Write(Trip trip, OrderId order, IEnumerable<Kept> checks) => trip
        .With("judgedOrder", order.Value)
        .With("judged", JsonSerializer.Serialize(checks, Json.Options))
        .Tell("insert into order_judgement (order_id, checks) values (@judgedOrder, @judged) on conflict (order_id) do update set checks = excluded.checks");

    public static string Text(IReadOnlyList<Judgement> judgements) => JsonSerializer.Serialize(judgements.Select(KeptOf), Json.Options);

    public static Kept KeptOf(Judgement j) =>
        new(j.Check, j.Kit, j.Result, j.Reason, j.Finding.Numbers, j.Finding.OnCondition, j.Finding.Answerable, j.Finding.Caution);

    public static IReadOnlyList<Kept> Read(OrderJudgement judgement) => JsonSerializer.Deserialize<List<Kept>>(judgement.Checks, Json.Options)!;

    /// <summary>One check as it came out, with what stands behind its sentence.</summary>
    internal sealed record Kept(Check Check, string Kit, CheckResult Result, string Reason, IReadOnlyDictionary<string, decimal> Numbers,
        bool OnCondition, bool Answerable, string? Caution);
}

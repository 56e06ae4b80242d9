using System.Text.Json;

namespace KitOrders.Operations.Orders;

/// <summary>Which steps a newer revision of the procedure would change, by their numbers.</summary>
internal static class ReplanSteps
{
    public static IReadOnlyList<ReplanStep> Between(IReadOnlyList<StepView> before, IReadOnlyList<StepView> after)
    {
        var (was, will) = (before.ToDictionary(s => s.Step), after.ToDictionary(s => s.Step));
        return [.. was.Keys.Union(will.Keys).Order().Where(n => Of(was.GetValueOrDefault(n)) != Of(will.GetValueOrDefault(n)))
            .Select(n => new ReplanStep(n, was.GetValueOrDefault(n)?.Text, will.GetValueOrDefault(n)?.Text))];
    }

    /// <summary>What the procedure says of the step, without what the order has made of it.</summary>
    static string? Of(StepView? step) => step is null ? null : JsonSerializer.Serialize(step with
    {
        Pieces = 1, Recorded = false, Deviates = false, ReleasedAt = null, ReleasedBy = null, AcceptedBy = null, AcceptReason = null, Results = [], InItsPlace = [],
    });
}

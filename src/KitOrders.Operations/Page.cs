using KitOrders.Rules;

namespace KitOrders.Operations;

/// <summary>A page of a list; <c>Next</c> is passed as "after" for the page that follows, null when there is none.</summary>
public sealed record Page<T>(IReadOnlyList<T> Items, string? Next);

static class PageOf
{
    public static Refusal? Wrong(int? size, int largest) => size is null or >= 1 && size.GetValueOrDefault(1) <= largest
        ? null
        : Refusal.Field("pageSize", "page-size", $"A page has 1 to {largest} rows.");
}

namespace KitOrders.Web.Shared;

/// <summary>One way out of a shortage: what to do, and the day and the price it comes at. Leads somewhere, or acts at once.</summary>
public sealed record Remedy(string Do, string Sentence)
{
    public string? Href { get; init; }

    public Func<Task>? Act { get; init; }
}

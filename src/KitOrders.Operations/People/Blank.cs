namespace KitOrders.Operations.People;

static class Blank
{
    /// <summary>Nothing typed is nothing said.</summary>
    public static string? ToNone(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}

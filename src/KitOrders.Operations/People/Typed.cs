namespace KitOrders.Operations.People;

static class Blank
{
    /// <summary>Nothing typed is nothing said.</summary>
    public static string? ToNone(string? text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();
}

/// <summary>Text for ILIKE in which "%" and "_" stand for themselves.</summary>
static class Pattern
{
    public const string Escape = "\\";

    public static string Exactly(string text) => text.Replace(@"\", @"\\").Replace("%", @"\%").Replace("_", @"\_");

    public static string Holding(string text) => $"%{Exactly(text)}%";
}

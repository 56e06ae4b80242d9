using KitOrders.Rules;

namespace KitOrders.Web.Paper;

/// <summary>A sheet that printers hold, in points of 1/72 inch: A4 (ISO 216, 210 × 297 mm) or Letter (8.5 × 11 in).</summary>
public sealed record PaperSize(string Name, double Width, double Height)
{
    public static readonly PaperSize A4 = new("a4", 210 / 25.4 * 72, 297 / 25.4 * 72);

    public static readonly PaperSize Letter = new("letter", 8.5 * 72, 11 * 72);

    /// <summary>Where none is asked for, the usual one. Refused as <c>paper-size</c>.</summary>
    public static Outcome<PaperSize> Read(string? name, PaperSize usual) => name?.ToLowerInvariant() switch
    {
        null or "" => usual,
        "a4" => A4,
        "letter" => Letter,
        _ => Refusal.Field("size", "paper-size", $"\"{name}\" is no sheet this prints on. Ask for a4 or letter."),
    };
}

using KitOrders.Rules.Procedures;

namespace KitOrders.Rules.Pumps;

/// <summary>What a document's file is, told by its first bytes and never by its name.</summary>
public static class DocumentFile
{
    public const int MostBytes = Photograph.MostBytes;

    static readonly string[] pictures = ["image/jpeg", "image/png"];

    /// <summary>
    /// The content type of a PDF file or of a JPEG or PNG picture of at most <see cref="MostBytes"/>. A PDF file begins with %PDF-
    /// (ISO 32000-1, 7.5.2). Refused: <c>document-too-large</c>, <c>document-type</c>.
    /// </summary>
    public static Outcome<string> TypeOf(ReadOnlySpan<byte> content)
    {
        if (content.Length > MostBytes)
            return Refusal.Field("file", "document-too-large", "A document has at most 5 MB. Nothing was kept; take a smaller file, or the pages that are needed.");
        if (content.StartsWith("%PDF-"u8))
            return "application/pdf";
        return Photograph.TypeOf(content) is { IsDone: true } picture && pictures.Contains(picture.Value)
            ? picture.Value
            : Refusal.Field("file", "document-type", "This is no PDF, PNG or JPEG file, whatever its name says. Nothing was kept; save it as one of them.");
    }
}

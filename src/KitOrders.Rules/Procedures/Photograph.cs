namespace KitOrders.Rules.Procedures;

/// <summary>What a picture is, told by its first bytes and never by what the sender calls it.</summary>
public static class Photograph
{
    public const int MostBytes = 5 * 1024 * 1024;

    /// <summary>
    /// The content type of a JPEG, PNG or WebP picture of at most <see cref="MostBytes"/>. Signatures as their formats state them:
    /// JPEG starts FF D8 FF (ITU-T T.81), PNG with the eight bytes of its clause 5.2 (ISO/IEC 15948), WebP with RIFF … WEBP
    /// (RFC 9649). Refused: <c>photograph-too-large</c>, <c>photograph-type</c>.
    /// </summary>
    public static Outcome<string> TypeOf(ReadOnlySpan<byte> content)
    {
        if (content.Length > MostBytes)
            return Refusal.Invalid("photograph-too-large", "A photograph has at most 5 MB. Take it smaller, then send it again.");
        if (content.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF]))
            return "image/jpeg";
        if (content.StartsWith((ReadOnlySpan<byte>)[0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A]))
            return "image/png";
        return content.Length > 12 && content.StartsWith("RIFF"u8) && content[8..].StartsWith("WEBP"u8)
            ? "image/webp"
            : Refusal.Invalid("photograph-type", "This is no JPEG, PNG or WebP picture. Nothing was kept; send the photograph itself.");
    }
}

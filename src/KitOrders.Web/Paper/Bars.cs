using QRCoder;
using ZXing;
using ZXing.OneD;

namespace KitOrders.Web.Paper;

/// <summary>What a scanner reads: Code 128 where the text and the room allow it, else a QR code.</summary>
static class Bars
{
    /// <summary>Narrower bars than this, in points (0.19 mm, the usual least for hand scanners; common practice, no source), are not printed.</summary>
    public const double LeastModule = 0.54;

    /// <summary>The light room that Code 128 wants on either side (ISO/IEC 15417), in modules.</summary>
    public const int QuietModules = 10;

    /// <summary>Dark modules from left to right, quiet zones left out; null where Code 128 cannot hold the text.</summary>
    public static IReadOnlyList<bool>? Code128(string text)
    {
        if (text.Length is 0 or > 80 || text.Any(c => c is < ' ' or > '~'))
            return null;
        var matrix = new Code128Writer().encode(text, BarcodeFormat.CODE_128, 0, 1, new Dictionary<EncodeHintType, object> { [EncodeHintType.MARGIN] = 0 });
        return [.. Enumerable.Range(0, matrix.Width).Select(x => matrix[x, 0])];
    }

    /// <summary>Rows of dark modules, with the quiet zone of four that the code wants (ISO/IEC 18004).</summary>
    public static IReadOnlyList<IReadOnlyList<bool>> Qr(string text)
    {
        using var data = QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.M, forceUtf8: true);
        return [.. data.ModuleMatrix.Select(row => (IReadOnlyList<bool>)[.. row.Cast<bool>()])];
    }
}

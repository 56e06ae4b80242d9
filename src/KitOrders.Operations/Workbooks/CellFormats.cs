using System.Globalization;
using System.Text.RegularExpressions;

namespace KitOrders.Operations.Workbooks;

/// <summary>What a number in a cell means by the way it is shown.</summary>
internal enum Shown
{
    Plain,
    Day,
    DayAndTime,
    Time,
    Percent,
}

/// <summary>The formats of a workbook's cells. Only they tell a day from a number.</summary>
internal sealed partial class CellFormats
{
    readonly List<Shown> ofStyle = [];

    public Shown Of(string? style) =>
        int.TryParse(style, NumberStyles.None, CultureInfo.InvariantCulture, out var index) && index < ofStyle.Count ? ofStyle[index] : Shown.Plain;

    public static CellFormats Read(PackedFile packed, string? part)
    {
        var formats = new CellFormats();
        if (part is null || !packed.Has(part))
            return formats;
        var codes = new Dictionary<int, string>();
        var inCells = false;
        using var xml = packed.Read(part);
        while (xml.Read())
            switch (xml.LocalName)
            {
                case "numFmt" when Id(xml.GetAttribute("numFmtId")) is { } id && xml.GetAttribute("formatCode") is { } code:
                    codes[id] = code;
                    break;
                case "cellXfs":
                    inCells = xml.NodeType == System.Xml.XmlNodeType.Element && !xml.IsEmptyElement;
                    break;
                case "xf" when inCells && xml.NodeType == System.Xml.XmlNodeType.Element:
                    var number = Id(xml.GetAttribute("numFmtId")) ?? 0;
                    formats.ofStyle.Add(codes.TryGetValue(number, out var own) ? Meaning(own) : Meaning(number));
                    break;
                default:
                    break;
            }
        return formats;
    }

    static int? Id(string? text) => int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var id) ? id : null;

    /// <summary>The formats that every spreadsheet knows by number (ECMA-376 part 1, 18.8.30).</summary>
    static Shown Meaning(int id) => id switch
    {
        9 or 10 => Shown.Percent,
        >= 14 and <= 17 or >= 27 and <= 31 or 36 or >= 50 and <= 54 or 57 or 58 => Shown.Day,
        22 => Shown.DayAndTime,
        >= 18 and <= 21 or >= 32 and <= 35 or >= 45 and <= 47 or 55 or 56 => Shown.Time,
        _ => Shown.Plain,
    };

    /// <summary>A format written out, such as <c>dd.mm.yyyy</c> or <c>[Red]0.00 "days"</c>: letters in quotes and brackets mean nothing.</summary>
    internal static Shown Meaning(string code)
    {
        var letters = NoMeaning().Replace(code, "").Split(';')[0].ToLowerInvariant();
        if (letters.Contains("general", StringComparison.Ordinal))
            return Shown.Plain;
        var time = letters.AsSpan().IndexOfAny('h', 's') >= 0 || letters.Contains("[m", StringComparison.Ordinal);
        var day = letters.AsSpan().IndexOfAny('y', 'd') >= 0 || (!time && letters.Contains('m', StringComparison.Ordinal));
        return (day, time) switch
        {
            (true, true) => Shown.DayAndTime,
            (true, false) => Shown.Day,
            (false, true) => Shown.Time,
            _ => letters.Contains('%', StringComparison.Ordinal) ? Shown.Percent : Shown.Plain,
        };
    }

    [GeneratedRegex("""\"[^"]*"|\\.|_.|\*.|\[(?!(h+|m+|s+)\])[^\]]*\]""", RegexOptions.IgnoreCase)]
    private static partial Regex NoMeaning();
}

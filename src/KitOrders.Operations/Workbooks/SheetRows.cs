using System.Globalization;
using System.Text;
using System.Xml;

namespace KitOrders.Operations.Workbooks;

/// <summary>
/// Walks through the cells of a sheet. Each becomes the text that it would have in a CSV file; a cell that has none of its own (a formula, an error, a
/// merged cell) is refused with its place.
/// </summary>
internal sealed class SheetRows(string sheet, ImportSpec spec, ImportErrors errors, List<string> texts, CellFormats formats, bool from1904)
{
    const int MostColumns = 16_384;

    /// <summary>Stands for what was refused, so that the row is not taken for a blank one.</summary>
    const string Refused = "?";

    readonly List<string[]> rows = [];
    readonly List<int> numbers = [];
    string[]? names;
    bool isHeader;

    /// <summary>The rows, or null with errors.</summary>
    public RawRows? Read(XmlReader xml, CancellationToken ct)
    {
        using (xml)
        {
            var row = 0;
            while (rows.Count <= (names is null || isHeader ? CsvTable.MostRows + 1 : CsvTable.HeaderSought) && xml.Read())
            {
                if (xml.NodeType != XmlNodeType.Element)
                    continue;
                if (xml.LocalName == "row")
                {
                    ct.ThrowIfCancellationRequested();
                    if (!Next(xml.GetAttribute("r"), ref row, int.MaxValue))
                        return Broken($"row {xml.GetAttribute("r")}");
                    if (!Row(xml, row))
                        return null;
                }
                else if (xml.LocalName == "mergeCell")
                    errors.Add(0, "", $"Cells {xml.GetAttribute("ref")} of sheet {sheet} are merged. Undo it, so that every row has cells of its own.", $"{sheet}!{xml.GetAttribute("ref")}");
            }
        }
        errors.Rows = Math.Max(0, rows.Count - 1);
        return errors.Count > 0 ? null : new RawRows(rows, sheet, numbers);
    }

    /// <summary>Counts on, or to the number that is given, which never goes back.</summary>
    static bool Next(string? given, ref int number, int most)
    {
        var before = number;
        if (given is null)
            number++;
        else if (!int.TryParse(given, NumberStyles.None, CultureInfo.InvariantCulture, out number))
            return false;
        return number > before && number <= most;
    }

    bool Row(XmlReader xml, int row)
    {
        if (xml.IsEmptyElement)
            return true;
        var cells = new List<string?>();
        var column = 0;
        var depth = xml.Depth;
        while (xml.Read() && xml.Depth > depth)
        {
            if (xml is not { NodeType: XmlNodeType.Element, LocalName: "c" })
                continue;
            var place = xml.GetAttribute("r");
            if (!Next(place is null ? null : ColumnOf(place), ref column, MostColumns))
            {
                Broken($"cell {place}");
                return false;
            }
            if (Cell(xml, row, column - 1) is { Length: > 0 } text && !string.IsNullOrWhiteSpace(text))
            {
                if (isHeader && column > names!.Length)
                {
                    Refuse(row, column - 1, "stands outside the columns that the header names. Clear it, or name its column");
                    continue;
                }
                while (cells.Count < column)
                    cells.Add(null);
                cells[column - 1] = text;
            }
        }
        if (cells.Count > 0)
            Take(cells, row);
        return true;
    }

    /// <summary>A header that cannot be taken is refused later, with what stands in the rows below it; they keep all their cells until then.</summary>
    void Take(List<string?> cells, int row)
    {
        if (names is null)
        {
            names = [.. cells.Select(c => c?.Trim() ?? "")];
            isHeader = CsvTable.IsHeader(names, spec);
        }
        while (cells.Count < names.Length)
            cells.Add(null);
        rows.Add([.. cells.Select(c => c ?? "")]);
        numbers.Add(row);
    }

    string? Cell(XmlReader xml, int row, int column)
    {
        var (type, style) = (xml.GetAttribute("t"), xml.GetAttribute("s"));
        if (xml.IsEmptyElement)
            return null;
        string? value = null;
        var formula = false;
        var depth = xml.Depth;
        while (xml.Read() && xml.Depth > depth)
            if (xml.NodeType == XmlNodeType.Element)
                switch (xml.LocalName)
                {
                    case "f":
                        formula = true;
                        break;
                    case "is":
                        value = TextOf(xml);
                        break;
                    case "v":
                        value = ContentOf(xml);
                        break;
                    default:
                        break;
                }
        if (formula)
            return Refuse(row, column, "holds a formula. Save the sheet with values alone (copy, then paste as values)");
        return string.IsNullOrWhiteSpace(value) ? null : type switch
        {
            "s" => int.TryParse(value, NumberStyles.None, CultureInfo.InvariantCulture, out var index) && index < texts.Count ? Text(texts[index], row, column)
                : Refuse(row, column, "names a text that the workbook does not hold. Save it again in the spreadsheet"),
            "str" or "inlineStr" => Text(value, row, column),
            "b" => value.Trim() is "1" or "true" ? "yes" : "no",
            "e" => Refuse(row, column, $"holds the error {value}. Put in the value, or leave it empty"),
            "d" => Date(value, row, column),
            _ => Number(value, formats.Of(style), row, column),
        };
    }

    string? Text(string text, int row, int column) =>
        text.Length <= CsvText.LongestCell ? text : Refuse(row, column, $"is longer than {CsvText.LongestCell:N0} characters. Shorten it");

    string? Date(string value, int row, int column) => DayIn(column) switch
    {
        false => NoDayHere(row, column),
        true => value.Length > 10 && value.AsSpan(10).TrimEnd('Z') is "T00:00:00" or "T00:00:00.000" ? value[..10] : value,
    };

    string? Number(string raw, Shown shown, int row, int column)
    {
        switch (shown)
        {
            case Shown.Day or Shown.DayAndTime when !DayIn(column):
                return NoDayHere(row, column);
            case Shown.Day or Shown.DayAndTime:
                return CellText.Day(raw, shown == Shown.DayAndTime, from1904) ?? Refuse(row, column, $"holds {raw}, shown as a day, and there is no such day. Write it as 2026-03-12");
            case Shown.Time:
                return Refuse(row, column, "holds a time of day. Make the cell text and write what is meant");
            case Shown.Percent:
                return Refuse(row, column, "is shown in per cent. Make it a plain number, 10 for 10 %");
            default:
                return CellText.Number(raw) ?? Refuse(row, column, $"holds {raw}, no number or one of more than {CellText.Digits} digits, of which a spreadsheet keeps the first only. Make the cell text and write it again");
        }
    }

    /// <summary>Whether the column takes days. A spreadsheet makes days of its own out of parts such as 3-12.</summary>
    bool DayIn(int column) => names is not null && column < names.Length && spec.DayColumns.Contains(names[column]);

    string? NoDayHere(int row, int column) => Refuse(row, column, "holds a day where the column takes none; spreadsheets make days out of texts such as 3-12. Make the cell text and write it again");

    string? Refuse(int row, int column, string what)
    {
        var cell = $"{CellText.Letters(column)}{row}";
        errors.Add(rows.Count, names is not null && column < names.Length ? names[column] : "", $"Cell {cell} of sheet {sheet} {what}.", $"{sheet}!{cell}");
        return Refused;
    }

    RawRows? Broken(string where)
    {
        errors.Add(rows.Count, "", $"Sheet {sheet} is made wrongly at {where}: rows and cells stand in order, each once. Save the workbook again in the spreadsheet.", sheet);
        return null;
    }

    /// <summary>The column of "C7" as a number from 1; a text that is none when the place cannot be read.</summary>
    static string ColumnOf(string place)
    {
        var column = 0;
        foreach (var letter in place.TakeWhile(char.IsAsciiLetterUpper).Take(4))
            column = (column * 26) + letter - 'A' + 1;
        return column == 0 ? "" : column.ToString(CultureInfo.InvariantCulture);
    }

    /// <summary>The text of all runs inside the element, without what is said of its pronunciation.</summary>
    internal static string TextOf(XmlReader xml)
    {
        if (xml.IsEmptyElement)
            return "";
        var text = new StringBuilder();
        var spoken = false;
        var depth = xml.Depth;
        while (xml.Read() && xml.Depth > depth)
            if (xml.LocalName == "rPh")
                spoken = xml.NodeType == XmlNodeType.Element && !xml.IsEmptyElement;
            else if (!spoken && xml is { NodeType: XmlNodeType.Element, LocalName: "t" })
                Add(text, ContentOf(xml));
        return CellText.Decode(text.ToString());
    }

    /// <summary>The characters inside the element; the reader stands at its end afterwards.</summary>
    static string ContentOf(XmlReader xml)
    {
        if (xml.IsEmptyElement)
            return "";
        var content = new StringBuilder();
        var depth = xml.Depth;
        while (xml.Read() && xml.Depth > depth)
            if (xml.NodeType is XmlNodeType.Text or XmlNodeType.CDATA or XmlNodeType.Whitespace or XmlNodeType.SignificantWhitespace)
                Add(content, xml.Value);
        return content.ToString();
    }

    /// <summary>One character more than a cell may have is enough to refuse it.</summary>
    static void Add(StringBuilder text, string more) => text.Append(more.AsSpan(0, Math.Min(more.Length, CsvText.LongestCell + 1 - Math.Min(text.Length, CsvText.LongestCell + 1))));
}

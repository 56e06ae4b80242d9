using System.Globalization;
using System.IO.Compression;
using System.Text;

namespace KitOrders.Operations.Workbooks;

/// <summary>
/// Writes rows as a workbook of one sheet, row by row. Days and numbers are days and numbers, all else is text; the same rows make the same bytes.
/// Its parts are those of ECMA-376 part 1 that no workbook can do without.
/// </summary>
internal static class SheetLines
{
    const string Main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    const string Linked = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    const string Packed = "http://schemas.openxmlformats.org/package/2006/";
    const string Kind = "application/vnd.openxmlformats-officedocument.spreadsheetml.";
    const string Xml = "<?xml version=\"1.0\" encoding=\"UTF-8\" standalone=\"yes\"?>\n";

    /// <summary>Styles: 0 plain, 1 a day, 2 the header.</summary>
    const string Styles = $"""
        <styleSheet xmlns="{Main}"><numFmts count="1"><numFmt numFmtId="164" formatCode="yyyy\-mm\-dd"/></numFmts><fonts count="2"><font><sz val="11"/><name val="Calibri"/></font><font><b/><sz val="11"/><name val="Calibri"/></font></fonts><fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills><borders count="1"><border/></borders><cellStyleXfs count="1"><xf/></cellStyleXfs><cellXfs count="3"><xf/><xf numFmtId="164" applyNumberFormat="1"/><xf fontId="1" applyFont="1"/></cellXfs></styleSheet>
        """;

    static readonly DateTimeOffset always = new(1980, 1, 1, 0, 0, 0, TimeSpan.Zero);

    public static async Task Write(Stream to, string sheet, IReadOnlyList<string> names, IAsyncEnumerable<object?[]> rows, CancellationToken ct)
    {
        await using var archive = await ZipArchive.CreateAsync(to, ZipArchiveMode.Create, leaveOpen: true, entryNameEncoding: null, ct);
        await Part(archive, "[Content_Types].xml", $"""<Types xmlns="{Packed}content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Override PartName="/xl/workbook.xml" ContentType="{Kind}sheet.main+xml"/><Override PartName="/xl/worksheets/sheet1.xml" ContentType="{Kind}worksheet+xml"/><Override PartName="/xl/styles.xml" ContentType="{Kind}styles+xml"/></Types>""", ct);
        await Part(archive, "_rels/.rels", $"""<Relationships xmlns="{Packed}relationships"><Relationship Id="rId1" Type="{Linked}/officeDocument" Target="xl/workbook.xml"/></Relationships>""", ct);
        await Part(archive, "xl/workbook.xml", $"""<workbook xmlns="{Main}" xmlns:r="{Linked}"><bookViews><workbookView/></bookViews><sheets><sheet name="{CellText.Encode(sheet)}" sheetId="1" r:id="rId1"/></sheets></workbook>""", ct);
        await Part(archive, "xl/_rels/workbook.xml.rels", $"""<Relationships xmlns="{Packed}relationships"><Relationship Id="rId1" Type="{Linked}/worksheet" Target="worksheets/sheet1.xml"/><Relationship Id="rId2" Type="{Linked}/styles" Target="styles.xml"/></Relationships>""", ct);
        await Part(archive, "xl/styles.xml", Styles, ct);
        await using var text = new StreamWriter(await Open(archive, "xl/worksheets/sheet1.xml", ct), new UTF8Encoding(false), 64 * 1024);
        await text.WriteAsync($"""{Xml}<worksheet xmlns="{Main}"><sheetViews><sheetView workbookViewId="0"><pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews><sheetData>""");
        var line = new StringBuilder("<row>");
        foreach (var name in names)
            Text(line, name, " s=\"2\"");
        await text.WriteAsync(line.Append("</row>"), ct);
        await foreach (var row in rows)
        {
            line.Clear().Append("\n<row>");
            foreach (var cell in row)
                Cell(line, cell);
            await text.WriteAsync(line.Append("</row>"), ct);
        }
        await text.WriteAsync("\n</sheetData></worksheet>");
    }

    static void Cell(StringBuilder line, object? cell)
    {
        switch (cell)
        {
            case null:
                line.Append("<c/>");
                break;
            case DateOnly { Year: >= 1901 } day:
                line.Append(CultureInfo.InvariantCulture, $"<c s=\"1\"><v>{CellText.Serial(day)}</v></c>");
                break;
            case decimal number when CellText.SignificantDigits(number) <= CellText.Digits:
            case int or long:
                line.Append("<c><v>").Append(CsvLines.Of(cell)).Append("</v></c>");
                break;
            default:
                Text(line, CsvLines.Of(cell), "");
                break;
        }
    }

    static void Text(StringBuilder line, string text, string style)
    {
        if (text.Length == 0)
            line.Append("<c/>");
        else
            line.Append("<c t=\"inlineStr\"").Append(style).Append("><is><t>").Append(CellText.Encode(text)).Append("</t></is></c>");
    }

    static async Task Part(ZipArchive archive, string name, string xml, CancellationToken ct)
    {
        await using var part = await Open(archive, name, ct);
        await part.WriteAsync(Encoding.UTF8.GetBytes(Xml + xml), ct);
    }

    /// <summary>A part that carries no time of its own.</summary>
    internal static Task<Stream> Open(ZipArchive archive, string name, CancellationToken ct)
    {
        var entry = archive.CreateEntry(name, CompressionLevel.Optimal);
        entry.LastWriteTime = always;
        return entry.OpenAsync(ct);
    }
}

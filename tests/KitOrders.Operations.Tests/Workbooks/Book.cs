using System.IO.Compression;
using System.Text;

namespace KitOrders.Operations.Tests.Workbooks;

/// <summary>A workbook made by hand, part by part, so that any of them can be wrong.</summary>
static class Book
{
    public const string Main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    public const string Linked = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
    public const string Sheet = "xl/worksheets/sheet1.xml";

    /// <summary>Cell styles: 0 plain, 1 a day (built in), 2 a day written out, 3 day and time, 4 per cent, 5 time, 6 text.</summary>
    const string Styles = $"""<styleSheet xmlns="{Main}"><numFmts count="2"><numFmt numFmtId="165" formatCode="[$-407]dd\.mm\.yyyy;@"/><numFmt numFmtId="166" formatCode="0.00%"/></numFmts><cellStyleXfs><xf numFmtId="22"/></cellStyleXfs><cellXfs><xf numFmtId="0"/><xf numFmtId="14"/><xf numFmtId="165"/><xf numFmtId="22"/><xf numFmtId="166"/><xf numFmtId="20"/><xf numFmtId="49"/></cellXfs></styleSheet>""";

    public static Dictionary<string, string> Parts(string sheetData, string sheet = "Sheet1", string after = "") => new()
    {
        ["[Content_Types].xml"] = """<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Override PartName="/xl/workbook.xml" ContentType="application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml"/></Types>""",
        ["_rels/.rels"] = Links(("rId1", "officeDocument", "xl/workbook.xml", false)),
        ["xl/workbook.xml"] = $"""<workbook xmlns="{Main}" xmlns:r="{Linked}"><sheets><sheet name="{sheet}" sheetId="1" r:id="rId1"/></sheets></workbook>""",
        ["xl/_rels/workbook.xml.rels"] = Links(("rId1", "worksheet", "worksheets/sheet1.xml", false), ("rId2", "styles", "/xl/styles.xml", false)),
        ["xl/styles.xml"] = Styles,
        [Sheet] = $"""<worksheet xmlns="{Main}"><sheetData>{sheetData}</sheetData>{after}</worksheet>""",
    };

    public static string Links(params (string Id, string Type, string Target, bool Outside)[] links) =>
        $"""<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">{string.Concat(links.Select(l =>
            $"<Relationship Id=\"{l.Id}\" Type=\"{Linked}/{l.Type}\" Target=\"{l.Target}\"{(l.Outside ? " TargetMode=\"External\"" : "")}/>"))}</Relationships>""";

    public static byte[] Pack(IReadOnlyDictionary<string, string> parts)
    {
        using var memory = new MemoryStream();
        using (var archive = new ZipArchive(memory, ZipArchiveMode.Create, leaveOpen: true))
            foreach (var (name, text) in parts)
            {
                using var part = archive.CreateEntry(name).Open();
                part.Write(Encoding.UTF8.GetBytes(text));
            }
        return memory.ToArray();
    }

    /// <summary>A workbook of one sheet. Rows are cells as <see cref="Text"/> and <see cref="Number"/> write them.</summary>
    public static byte[] Of(params string[][] rows) => Pack(Parts(Rows(rows)));

    public static string Rows(params string[][] rows) =>
        string.Concat(rows.Select((cells, row) => $"<row r=\"{row + 1}\">{string.Concat(cells.Select((cell, column) => cell.Replace("<c", $"<c r=\"{(char)('A' + column)}{row + 1}\"", StringComparison.Ordinal)))}</row>"));

    public static string Text(string text) => $"<c t=\"inlineStr\"><is><t>{text}</t></is></c>";

    public static string Number(string value, int style = 0) => $"<c s=\"{style}\"><v>{value}</v></c>";

    public static string[] Header(params string[] names) => Array.ConvertAll(names, Text);
}

using System.Buffers.Binary;
using System.IO.Compression;
using System.Text;
using KitOrders.Operations.Tests.Imports;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace KitOrders.Operations.Tests.Workbooks;

/// <summary>Workbooks that are not taken: each with the place and the reason, and nothing written.</summary>
public sealed class WorkbookRefusalTests(EmptyBench empty) : IClassFixture<EmptyBench>
{
    const string GoodRow = "<row><c t=\"inlineStr\"><is><t>A1</t></is></c><c><v>1</v></c></row>";

    static CancellationToken Ct => TestContext.Current.CancellationToken;

    static readonly string header = Book.Rows(Book.Header("bin", "walk_order"));

    async Task<IReadOnlyList<ImportError>> Bad(byte[] book, string file = "bins")
    {
        var bench = empty.Bench;
        var outcome = await new ImportFile(bench.Desk).Run(new Call(bench.Actor), file, FileForm.Xlsx, new MemoryStream(book), false, null, Ct);
        Assert.True(outcome.Value.Refused);
        Assert.Equal(0, outcome.Value.Written);
        await using var db = bench.Db();
        Assert.False(await db.Bins.AnyAsync(Ct));
        Assert.False(await db.Audit.AnyAsync(Ct));
        return outcome.Value.Errors;
    }

    async Task<string> BadFile(byte[] book)
    {
        var error = Assert.Single(await Bad(book));
        Assert.Equal((0, ""), (error.Row, error.Column));
        return error.Message;
    }

    static byte[] Changed(string part, string text)
    {
        var parts = Book.Parts(header + GoodRow);
        parts[part] = text;
        return Book.Pack(parts);
    }

    [Theory]
    [InlineData("<c><f>1+1</f><v>2</v></c>", "Cell B3 of sheet Sheet1 holds a formula. Save the sheet with values alone (copy, then paste as values).")]
    [InlineData("<c><f t=\"shared\" si=\"0\"/><v>2</v></c>", "Cell B3 of sheet Sheet1 holds a formula. Save the sheet with values alone (copy, then paste as values).")]
    [InlineData("<c t=\"e\"><v>#N/A</v></c>", "Cell B3 of sheet Sheet1 holds the error #N/A. Put in the value, or leave it empty.")]
    [InlineData("<c s=\"1\"><v>45992</v></c>", "Cell B3 of sheet Sheet1 holds a day where the column takes none; spreadsheets make days out of texts such as 3-12. Make the cell text and write it again.")]
    [InlineData("<c s=\"4\"><v>0.1</v></c>", "Cell B3 of sheet Sheet1 is shown in per cent. Make it a plain number, 10 for 10 %.")]
    [InlineData("<c s=\"5\"><v>0.5</v></c>", "Cell B3 of sheet Sheet1 holds a time of day. Make the cell text and write what is meant.")]
    [InlineData("<c><v>1234567890123456789</v></c>", "Cell B3 of sheet Sheet1 holds 1234567890123456789, no number or one of more than 15 digits, of which a spreadsheet keeps the first only. Make the cell text and write it again.")]
    [InlineData("<c t=\"s\"><v>7</v></c>", "Cell B3 of sheet Sheet1 names a text that the workbook does not hold. Save it again in the spreadsheet.")]
    [InlineData("<c t=\"inlineStr\"><is><t>ten</t></is></c>", "\"ten\" cannot be taken: walk_order must be a whole number from 0 to 10000000.")]
    [InlineData("<c t=\"inlineStr\"><is><t>=1+1</t></is></c>", "\"=1+1\" would run as a formula when the file is opened in a spreadsheet. Begin it with another character.")]
    [InlineData("<c t=\"inlineStr\"><is><t>+1</t></is></c>", "\"+1\" would run as a formula when the file is opened in a spreadsheet. Begin it with another character.")]
    [InlineData("<c t=\"inlineStr\"><is><t>@SUM</t></is></c>", "\"@SUM\" would run as a formula when the file is opened in a spreadsheet. Begin it with another character.")]
    [InlineData("<c t=\"inlineStr\"><is><t>-2+3+cmd</t></is></c>", "\"-2+3+cmd\" would run as a formula when the file is opened in a spreadsheet. Begin it with another character.")]
    public async Task A_cell_that_cannot_be_taken_is_named_by_its_place(string cell, string sentence)
    {
        var sheet = header + "<row r=\"2\"><c t=\"inlineStr\"><is><t>A1</t></is></c><c><v>1</v></c></row><row r=\"3\"><c r=\"A3\" t=\"inlineStr\"><is><t>A2</t></is></c>" + cell.Replace("<c", "<c r=\"B3\"", StringComparison.Ordinal) + "</row>";
        var errors = await Bad(Book.Pack(Book.Parts(sheet)));
        Assert.Contains(new ImportError(2, "walk_order", sentence, "Sheet1!B3"), errors);
        Assert.All(errors, e => Assert.Equal("Sheet1!B3", e.Place));
    }

    [Fact]
    public async Task The_place_counts_blank_rows_and_the_row_does_not()
    {
        var errors = await Bad(Book.Pack(Book.Parts(header + "<row r=\"2\"/><row r=\"9\"><c r=\"A9\" t=\"inlineStr\"><is><t>A1</t></is></c><c r=\"B9\"><v>-1</v></c></row>")));
        Assert.Equal((1, "walk_order", "Sheet1!B9"), (Assert.Single(errors).Row, errors[0].Column, errors[0].Place));
    }

    [Fact]
    public async Task Merged_cells_are_refused_each_with_its_place()
    {
        var errors = await Bad(Book.Pack(Book.Parts(header + GoodRow, after: "<mergeCells count=\"2\"><mergeCell ref=\"A2:A3\"/><mergeCell ref=\"B7:C9\"/></mergeCells>")));
        Assert.Equal(["Sheet1!A2:A3", "Sheet1!B7:C9"], errors.Select(e => e.Place!));
        Assert.Equal("Cells A2:A3 of sheet Sheet1 are merged. Undo it, so that every row has cells of its own.", errors[0].Message);
    }

    [Fact]
    public async Task A_title_above_the_header_is_refused_and_so_is_a_header_that_comes_again()
    {
        var above = Assert.Single(await Bad(Book.Of([Book.Text("Our bins")], Book.Header("bin", "walk_order"), [Book.Text("A1"), Book.Number("1")])));
        Assert.Equal(("The columns are named in row 2, below something else. One header row stands first; take out what is above it.", "Sheet1!2"), (above.Message, above.Place));
        var again = Assert.Single(await Bad(Book.Of(Book.Header("bin", "walk_order"), [Book.Text("A1"), Book.Number("1")], Book.Header("bin", "walk_order"), [Book.Text("A2"), Book.Number("2")])));
        Assert.Equal((2, "The row names the columns again. One header row stands first; take this one out.", "Sheet1!3"), (again.Row, again.Message, again.Place));
    }

    [Fact]
    public async Task A_cell_beside_the_named_columns_is_refused()
    {
        var error = Assert.Single(await Bad(Book.Of(Book.Header("bin", "walk_order"), [Book.Text("A1"), Book.Number("1"), Book.Text("note")])));
        Assert.Equal(("Cell C2 of sheet Sheet1 stands outside the columns that the header names. Clear it, or name its column.", "Sheet1!C2"), (error.Message, error.Place));
    }

    [Fact]
    public async Task Rows_out_of_order_are_refused() =>
        Assert.StartsWith("Sheet Sheet1 is made wrongly at row 1:", Assert.Single(await Bad(Book.Pack(Book.Parts(header + GoodRow + "<row r=\"1\"/>")))).Message, StringComparison.Ordinal);

    [Fact]
    public async Task More_than_150000_rows_are_refused()
    {
        var rows = new StringBuilder(header);
        for (var i = 0; i <= 150_000; i++)
            rows.Append("<row><c t=\"str\"><v>B").Append(i).Append("</v></c><c><v>1</v></c></row>");
        Assert.Equal("The file has more than 150,000 rows. Split it.", await BadFile(Book.Pack(Book.Parts(rows.ToString()))));
    }

    [Fact]
    public async Task A_bomb_that_unpacks_to_a_thousand_times_its_size_is_refused_while_it_unpacks()
    {
        var bomb = Book.Pack(Book.Parts(header + GoodRow + new string(' ', 20_000_000)));
        Assert.InRange(bomb.Length, 1, 100_000);
        Assert.Equal("xl/worksheets/sheet1.xml in the workbook unpacks to more than 200 times its size, as no table does. Save the workbook again in the spreadsheet.", await BadFile(bomb));
    }

    [Fact]
    public async Task More_than_50_MB_unpacked_are_refused_whatever_the_file_says_of_itself()
    {
        var parts = Book.Parts(header + GoodRow);
        for (var i = 0; i < 51; i++)
            parts[$"xl/media/{i}.xml"] = new string('x', 990_000);
        var large = Book.Pack(parts);
        Assert.Equal("The workbook is larger than 50 MB when it is unpacked. Save the sheet as CSV, or split it.", await BadFile(large));
        Assert.NotEqual("", await BadFile(WithSizesOf(large, 10)));
    }

    /// <summary>Says of every part in the list at the end that it unpacks to so many bytes.</summary>
    static byte[] WithSizesOf(byte[] packed, uint size)
    {
        for (var at = packed.AsSpan().IndexOf("PK\u0001\u0002"u8); at >= 0 && at + 46 <= packed.Length && packed.AsSpan(at, 4).SequenceEqual("PK\u0001\u0002"u8);)
        {
            BinaryPrimitives.WriteUInt32LittleEndian(packed.AsSpan(at + 24), size);
            at += 46 + BinaryPrimitives.ReadUInt16LittleEndian(packed.AsSpan(at + 28)) + BinaryPrimitives.ReadUInt16LittleEndian(packed.AsSpan(at + 30)) + BinaryPrimitives.ReadUInt16LittleEndian(packed.AsSpan(at + 32));
        }
        return packed;
    }

    /// <summary>All parts named in the list at the end lead to the bytes of one, which is how small files unpack to terabytes.</summary>
    [Fact]
    public async Task Parts_that_lie_over_one_another_are_refused()
    {
        var parts = Book.Parts(header + GoodRow);
        var random = new Random(1);
        parts["xl/media/1.txt"] = string.Concat(Enumerable.Range(0, 20_000).Select(_ => (char)random.Next('!', '~')));
        var once = Book.Pack(parts);
        var list = BinaryPrimitives.ReadInt32LittleEndian(once.AsSpan(once.Length - 6));
        var last = once.AsSpan().LastIndexOf("PK\u0001\u0002"u8);
        var entry = once[last..^22];
        var again = Enumerable.Range(2, 8).SelectMany(i =>
        {
            var copy = entry.ToArray();
            copy[46 + "xl/media/".Length] = (byte)('0' + i);
            return copy;
        }).ToArray();
        byte[] end = [.. once[^22..]];
        var count = (ushort)(BinaryPrimitives.ReadUInt16LittleEndian(end.AsSpan(8)) + 8);
        BinaryPrimitives.WriteUInt16LittleEndian(end.AsSpan(8), count);
        BinaryPrimitives.WriteUInt16LittleEndian(end.AsSpan(10), count);
        BinaryPrimitives.WriteInt32LittleEndian(end.AsSpan(12), once.Length - 22 - list + again.Length);
        Assert.Equal("Parts of the packed file lie over one another. Save the workbook again in the spreadsheet.", await BadFile([.. once[..^22], .. again, .. end]));
    }

    [Fact]
    public async Task A_packed_file_inside_is_refused()
    {
        var inner = Book.Of(Book.Header("bin"));
        using var memory = new MemoryStream();
        memory.Write(Changed("xl/extra.txt", "x"));
        using (var archive = new ZipArchive(memory, ZipArchiveMode.Update, leaveOpen: true))
        {
            using var part = archive.CreateEntry("xl/embeddings/inner.xlsx").Open();
            part.Write(inner);
        }
        Assert.Equal("The workbook holds another packed file, xl/embeddings/inner.xlsx. Take out what is embedded in it.", await BadFile(memory.ToArray()));
    }

    [Fact]
    public async Task What_is_no_workbook_is_refused_with_what_it_is()
    {
        Assert.Equal("The file is not an .xlsx workbook. Save it as .xlsx in the spreadsheet, or as CSV UTF-8.", await BadFile("bin,walk_order\nA1,1\n"u8.ToArray()));
        Assert.Equal("The file is an .xls of old or stands under a password. Save it as .xlsx without a password.", await BadFile([0xD0, 0xCF, 0x11, 0xE0, 0xA1, 0xB1, 0x1A, 0xE1]));
        Assert.Equal("The file is packed but holds no workbook. Save it as .xlsx in the spreadsheet.", await BadFile(Book.Pack(new Dictionary<string, string> { ["a.txt"] = "a" })));
        var good = Changed("xl/x.txt", "x");
        Assert.Equal("The file is packed wrongly or cut off. Save the workbook again in the spreadsheet.", await BadFile(good[..^40]));
        Assert.StartsWith("The workbook cannot be read (line 1 ", await BadFile(Changed(Book.Sheet, "<worksheet><sheetData><row>")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_encrypted_part_is_refused()
    {
        var packed = Changed("xl/x.txt", "x");
        for (var at = packed.AsSpan().IndexOf("PK\u0001\u0002"u8); at >= 0 && at < packed.Length;)
        {
            packed[at + 8] |= 1;
            var next = packed.AsSpan(at + 4).IndexOf("PK\u0001\u0002"u8);
            at = next < 0 ? -1 : at + 4 + next;
        }
        Assert.Equal("The workbook is encrypted. Save it without a password.", await BadFile(packed));
    }

    [Theory]
    [InlineData("xl/vbaProject.bin", "x", "The workbook holds macros. Save it as .xlsx without them.")]
    [InlineData("[Content_Types].xml", """<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"><Override PartName="/xl/workbook.xml" ContentType="application/vnd.ms-excel.sheet.macroEnabled.main+xml"/></Types>""", "The workbook holds macros or is made to. Save it as .xlsx without them.")]
    [InlineData("xl/externalLinks/externalLink1.xml", "<externalLink/>", "The workbook is linked to other files or data outside it. Break the links and save it with values alone.")]
    public async Task Macros_and_links_to_elsewhere_are_refused(string part, string text, string sentence) => Assert.Equal(sentence, await BadFile(Changed(part, text)));

    [Fact]
    public async Task A_link_of_the_workbook_to_outside_is_refused() =>
        Assert.Equal("The workbook is linked to other files or data outside it. Break the links and save it with values alone.", await BadFile(Changed("xl/_rels/workbook.xml.rels",
            Book.Links(("rId1", "worksheet", "worksheets/sheet1.xml", false), ("rId9", "externalLinkPath", "file:///c:/prices.xlsx", true)))));

    [Theory]
    [InlineData(Book.Sheet)]
    [InlineData("xl/workbook.xml")]
    [InlineData("xl/styles.xml")]
    [InlineData("_rels/.rels")]
    public async Task A_document_type_or_an_entity_is_refused_in_every_part(string part)
    {
        var parts = Book.Parts(header + GoodRow);
        parts[part] = "<!DOCTYPE x [<!ENTITY a \"aaaaaaaaaa\"><!ENTITY b \"&a;&a;&a;&a;&a;\">]>" + parts[part];
        Assert.Contains("declares a document type or entities, which are not taken", await BadFile(Book.Pack(parts)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_day_that_never_was_is_refused()
    {
        var error = Assert.Single(await Bad(Book.Of(Book.Header("tool", "due_on"), [Book.Text("TQ-1"), Book.Number("60", 1)]), "tools"));
        Assert.Equal((1, "due_on", "Sheet1!B2"), (error.Row, error.Column, error.Place));
    }

    [Fact]
    public async Task Reading_a_workbook_can_be_stopped()
    {
        using var stop = new CancellationTokenSource();
        await stop.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() =>
            new ImportFile(empty.Bench.Desk).Run(new Call(empty.Bench.Actor), "bins", FileForm.Xlsx, new MemoryStream(Changed("xl/x.txt", "x")), false, null, stop.Token));
    }
}

/// <summary>One empty plant for all that must leave it empty.</summary>
public sealed class EmptyBench(TestDatabase databases) : IAsyncLifetime
{
    internal ImportBench Bench { get; private set; } = null!;

    public async ValueTask InitializeAsync() => Bench = await ImportBench.New(databases);

    public ValueTask DisposeAsync() => Bench.DisposeAsync();
}

using System.Globalization;
using DocumentFormat.OpenXml;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Spreadsheet;
using KitOrders.Operations.Tests.Imports;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;
using MiniExcelLibs;
using Xunit;

namespace KitOrders.Operations.Tests.Workbooks;

/// <summary>Workbooks that are taken: by hand, and as two libraries that are not the product's write them.</summary>
public sealed class WorkbookImportTests(TestDatabase databases)
{
    static CancellationToken Ct => TestContext.Current.CancellationToken;

    static async Task Good(ImportBench bench, string file, byte[] book)
    {
        var report = (await new ImportFile(bench.Desk).Run(new Call(bench.Actor), file, FileForm.Xlsx, new MemoryStream(book), false, null, Ct)).Value;
        Assert.True(report.Errors.Count == 0, string.Join("\n", report.Errors.Select(e => $"{e.Place}: {e.Message}")));
        Assert.Equal(report.Rows, report.Written);
    }

    [Fact]
    public async Task Numbers_days_flags_and_texts_are_read_as_a_csv_file_says_them()
    {
        await using var bench = await ImportBench.New(databases);
        await Good(bench, "parts", Book.Of(
            Book.Header("part", "description", "unit", "unit_cost", "barcode", "lead_time_days"),
            [Book.Text("P-1"), Book.Text("Elbow &amp; nut"), Book.Text("each"), Book.Number("1.1000000000000001"), Book.Number("2041000001077"), Book.Number("1.4E1")],
            ["<c/>", "<c s=\"1\"></c>", Book.Text("  ")],
            [Book.Number("12345"), "<c t=\"inlineStr\"><is><r><t>O-ring, </t></r><r><t>blue</t></r><rPh sb=\"0\" eb=\"1\"><t>oh</t></rPh></is></c>", Book.Text("each"), Book.Number("0.30000000000000004"), Book.Text("007"), "<c/>"]));
        await Good(bench, "bins", Book.Of(Book.Header("bin", "walk_order"), [Book.Text("A1"), Book.Number("10")]));
        await Good(bench, "stock", Book.Of(
            Book.Header("part", "bin", "lot", "quantity", "received_on", "cured_on"),
            [Book.Text("P-1"), Book.Text("A1"), Book.Text("L1"), Book.Number("3"), Book.Number("45992", 1), Book.Number("45901.75", 2)],
            [Book.Text("P-1"), Book.Text("A1"), Book.Text("L2"), Book.Number("4"), Book.Text("today-1"), Book.Text("1Q25")]));
        await Good(bench, "fluids", Book.Of(Book.Header("fluid", "bonding", "ignition_c"), [Book.Text("Lye"), "<c t=\"b\"><v>1</v></c>", Book.Number("-12.5")]));

        await using var db = bench.Db();
        var parts = await db.Parts.OrderBy(p => p.Number).ToListAsync(Ct);
        Assert.Equal(("12345", "O-ring, blue", 0.3m, "007"), (parts[0].Number, parts[0].Description, parts[0].UnitCost, parts[0].Barcode));
        Assert.Equal(("P-1", "Elbow & nut", 1.1m, "2041000001077", 14), (parts[1].Number, parts[1].Description, parts[1].UnitCost, parts[1].Barcode, parts[1].LeadTimeDays));
        var lots = await db.Lots.OrderBy(l => l.Number).ToListAsync(Ct);
        Assert.Equal((new DateOnly(2025, 12, 1), new DateOnly(2025, 9, 1)), (lots[0].ReceivedOn, lots[0].CuredOn));
        Assert.Equal((new DateOnly(2026, 3, 1), new DateOnly(2025, 3, 31)), (lots[1].ReceivedOn, lots[1].CuredOn));
        var fluid = await db.Fluids.SingleAsync(Ct);
        Assert.Equal((true, -12.5m), (fluid.Bonding, fluid.IgnitionC));
    }

    [Fact]
    public async Task The_sheet_named_like_the_file_is_read_before_the_first()
    {
        await using var bench = await ImportBench.New(databases);
        var parts = Book.Parts(Book.Rows(Book.Header("notes")));
        parts["xl/workbook.xml"] = $"""<workbook xmlns="{Book.Main}" xmlns:r="{Book.Linked}"><sheets><sheet name="Read me" sheetId="1" r:id="rId1"/><sheet name="Bins" sheetId="2" r:id="rId3"/></sheets></workbook>""";
        parts["xl/_rels/workbook.xml.rels"] = Book.Links(("rId1", "worksheet", "worksheets/sheet1.xml", false), ("rId3", "worksheet", "worksheets/sheet2.xml", false));
        parts["xl/worksheets/sheet2.xml"] = $"""<worksheet xmlns="{Book.Main}"><sheetData>{Book.Rows(Book.Header("bin", "walk_order"), [Book.Text("A1"), Book.Number("10")])}</sheetData></worksheet>""";
        await Good(bench, "bins", Book.Pack(parts));
        await using var db = bench.Db();
        Assert.Equal("A1", (await db.Bins.SingleAsync(Ct)).Code);
    }

    [Fact]
    public async Task A_workbook_that_counts_from_1904_gives_the_same_days()
    {
        await using var bench = await ImportBench.New(databases);
        var parts = Book.Parts(Book.Rows(Book.Header("tool", "due_on"), [Book.Text("TQ-1"), Book.Number("44530", 1)]));
        parts["xl/workbook.xml"] = parts["xl/workbook.xml"].Replace("<sheets>", "<workbookPr date1904=\"1\"/><sheets>", StringComparison.Ordinal);
        await Good(bench, "tools", Book.Pack(parts));
        await using var db = bench.Db();
        Assert.Equal(new DateOnly(2025, 12, 1), (await db.Tools.SingleAsync(Ct)).DueOn);
    }

    [Fact]
    public async Task What_MiniExcel_writes_is_taken()
    {
        await using var bench = await ImportBench.New(databases);
        using var book = new MemoryStream();
        await MiniExcel.SaveAsAsync(book, new[]
        {
            new { tool = "TQ-1", description = "Wrench & <socket>", low = 0.1, high = 25.5, unit = "Nm", calibrated_on = new DateTime(2026, 1, 15), due_on = new DateTime(2027, 1, 15) },
        }, sheetName: "tools", cancellationToken: Ct);
        await Good(bench, "tools", book.ToArray());
        await using var db = bench.Db();
        var tool = await db.Tools.SingleAsync(Ct);
        Assert.Equal(("Wrench & <socket>", 0.1m, 25.5m, new DateOnly(2026, 1, 15), new DateOnly(2027, 1, 15)), (tool.Description, tool.Low, tool.High, tool.CalibratedOn, tool.DueOn));
    }

    /// <summary>With texts shared between cells, as spreadsheets write them, and the line break they write as _x000D_.</summary>
    [Fact]
    public async Task What_the_Open_XML_SDK_writes_is_taken()
    {
        await using var bench = await ImportBench.New(databases);
        using var book = new MemoryStream();
        using (var document = SpreadsheetDocument.Create(book, SpreadsheetDocumentType.Workbook))
        {
            var workbook = document.AddWorkbookPart();
            var sheet = workbook.AddNewPart<WorksheetPart>();
            var shared = workbook.AddNewPart<SharedStringTablePart>();
            string[] texts = ["part", "description", "unit", "P-1", "Two_x000D_\nlines", "each", "_x005F_x0041_"];
            shared.SharedStringTable = new SharedStringTable(texts.Select(t => new SharedStringItem(new Text(t))));
            Cell Shared(int text) => new() { DataType = CellValues.SharedString, CellValue = new CellValue(text.ToString(CultureInfo.InvariantCulture)) };
            sheet.Worksheet = new Worksheet(new SheetData(
                new Row(Shared(0), Shared(1), Shared(2)), new Row(Shared(3), Shared(4), Shared(5)),
                new Row(new Cell { DataType = CellValues.Number, CellValue = new CellValue(77m) }, Shared(6), Shared(5))));
            workbook.Workbook = new DocumentFormat.OpenXml.Spreadsheet.Workbook(new Sheets(new Sheet { Name = "parts", SheetId = 1, Id = workbook.GetIdOfPart(sheet) }));
        }
        await Good(bench, "parts", book.ToArray());
        await using var db = bench.Db();
        Assert.Equal(["77 _x0041_", "P-1 Two\nlines"], await db.Parts.OrderBy(p => p.Number).Select(p => p.Number + " " + p.Description).ToListAsync(Ct));
    }

    [Fact]
    public async Task A_workbook_is_known_by_its_bytes_whatever_it_is_called()
    {
        await using var bench = await ImportBench.New(databases);
        var book = Book.Of(Book.Header("bin", "walk_order"), [Book.Text("A1"), Book.Number("10")]);
        var report = (await new ImportFile(bench.Desk).Run(new Call(bench.Actor), "bins", new MemoryStream(book), false, null, Ct)).Value;
        Assert.Equal((1, 1), (report.Rows, report.Written));
    }

    [Fact]
    public async Task A_lot_is_put_into_quarantine_by_a_file_and_never_taken_out_by_one()
    {
        await using var bench = await ImportBench.New(databases);
        await bench.Good("parts", "part,description,unit\nP-1,Elbow,each\n");
        await bench.Good("bins", "bin,walk_order\nA1,1\n");
        await bench.Good("stock", "part,bin,lot,quantity,received_on,quarantine\nP-1,A1,L1,5,today-1,Dented box\nP-1,A1,L2,5,today-1,\n");
        await bench.Good("stock", "part,bin,lot,quantity,received_on,quarantine\nP-1,A1,L1,5,today-1,\nP-1,A1,L2,5,today-1,Dented too\n");
        await using var db = bench.Db();
        Assert.Equal(["Dented box", "Dented too"], await db.Lots.OrderBy(l => l.Number).Select(l => l.Quarantine).ToListAsync(Ct));
    }

    [Fact]
    public async Task What_had_come_of_a_purchase_line_is_taken_once()
    {
        await using var bench = await ImportBench.New(databases);
        await bench.Good("parts", "part,description,unit\nP-1,Elbow,each\n");
        await bench.Good("incoming", "reference,part,quantity,received\nPO-1,P-1,10,4\n");
        var again = await bench.Good("incoming", "reference,part,quantity,received\nPO-1,P-1,12,6\n");
        Assert.Equal(["Of PO-1 4 of part P-1 have come by what is recorded here, and not 6. What is recorded stays."], again.Warnings);
        await using var db = bench.Db();
        var line = await db.Set<Incoming>().SingleAsync(Ct);
        Assert.Equal((12m, 4m), (line.Quantity, line.Received));
    }
}

using System.Text;
using DocumentFormat.OpenXml.Packaging;
using DocumentFormat.OpenXml.Validation;
using KitOrders.Operations.Tests.Imports;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using MiniExcelLibs;
using Xunit;

namespace KitOrders.Operations.Tests.Exports;

public sealed class ExportTests(TestDatabase databases)
{
    static CancellationToken Ct => TestContext.Current.CancellationToken;

    static string Text(byte[] csv) => Encoding.UTF8.GetString(csv).TrimStart('\uFEFF');

    /// <summary>What people typed on a screen may begin as a formula does.</summary>
    [Fact]
    public async Task Nothing_that_would_run_in_a_spreadsheet_goes_out_raw_and_all_of_it_comes_back()
    {
        await using var bench = await ImportBench.New(databases);
        string[] typed = ["=1+1", "+1", "-1+1", "@x", "'=1", "\t=1", " =1", "-5", "line\r\n=two", "a\u0001b"];
        await using (var db = bench.Db())
        {
            db.Parts.AddRange(typed.Select((t, i) => new Part { Number = $"P-{i}", Description = t, Unit = Unit.Each }));
            await db.SaveChangesAsync(Ct);
        }
        var csv = Text(await bench.One("parts", FileForm.Csv));
        foreach (var line in (string[])["P-0,'=1+1,", "P-1,'+1,", "P-2,'-1+1,", "P-3,'@x,", "P-4,''=1,", "P-5,'=1,", "P-6,'=1,", "P-7,-5,", "P-8,\"line\n=two\",", "P-9,a b,"])
            Assert.Contains("\r\n" + line, csv, StringComparison.Ordinal);
        foreach (var form in Enum.GetValues<FileForm>())
        {
            await using var other = await ImportBench.New(databases);
            await other.Take([("parts", await bench.One("parts", form))], form);
            await using var db = other.Db();
            Assert.Equal(["=1+1", "+1", "-1+1", "@x", "'=1", "=1", "=1", "-5", "line\n=two", "a b"], db.Parts.OrderBy(p => p.Number).Select(p => p.Description));
        }
    }

    /// <summary>The schema of ECMA-376 as the Open XML SDK holds it, and another reader than the product's own.</summary>
    [Fact]
    public async Task A_workbook_is_one_by_its_schema_and_other_programs_read_its_cells()
    {
        await using var bench = await ImportBench.New(databases);
        await bench.Good("tools", "tool,description,low,high,unit,calibrated_on,due_on\nTQ-1,\"Wrench <1/2\"\" & up>\",0.1,99999999999999.9999,Nm,2026-01-15,\nTQ-2,,,25,,,2027-12-31\n");
        var book = await bench.One("tools", FileForm.Xlsx);
        using (var document = SpreadsheetDocument.Open(new MemoryStream(book), isEditable: false))
        {
            var wrong = new OpenXmlValidator().Validate(document, Ct).Select(e => $"{e.Part?.Uri} {e.Path?.XPath}: {e.Description}").ToList();
            Assert.True(wrong.Count == 0, string.Join("\n", wrong));
        }
        var rows = (await MiniExcel.QueryAsync(new MemoryStream(book), useHeaderRow: true, sheetName: "tools", cancellationToken: Ct)).Cast<IDictionary<string, object?>>().ToList();
        Assert.Equal(["tool", "description", "low", "high", "unit", "calibrated_on", "due_on"], rows[0].Keys);
        Assert.Equal(["TQ-1", "Wrench <1/2\" & up>", 0.1, "99999999999999.9999", "Nm", new DateTime(2026, 1, 15), null], rows[0].Values);
        Assert.Equal(["TQ-2", null, null, 25.0, null, null, new DateTime(2027, 12, 31)], rows[1].Values);
    }

    [Fact]
    public async Task Every_released_revision_goes_out_and_no_draft()
    {
        await using var bench = await ImportBench.New(databases);
        await bench.Good("parts", "part,description,unit\nK-1,Kit,set\nP-1,Elbow,each\n");
        await bench.Good("kits", "kit,revision,line,part,quantity,source\nK-1,2,1,P-1,2,inTheBox\nK-1,1,1,P-1,1,inTheBox\n");
        await using (var db = bench.Db())
        {
            var draft = new KitRevision { PartId = db.Parts.Single(p => p.Number == "K-1").Id, Number = 3 };
            draft.Lines.Add(new KitLine { Number = 1, PartId = db.Parts.Single(p => p.Number == "P-1").Id, Quantity = 3, Source = LineSource.InTheBox });
            db.Add(draft);
            await db.SaveChangesAsync(Ct);
        }
        var csv = await bench.One("kits", FileForm.Csv);
        Assert.Equal("kit,revision,line,part,quantity,source,spare_policy,reject_rate,wraps,wraps_for,buildable\r\nK-1,1,1,P-1,1,inTheBox,,,,,no\r\nK-1,2,1,P-1,2,inTheBox,,,,,no\r\n", Text(csv));
        await using var other = await ImportBench.New(databases);
        await other.Take([("parts", await bench.One("parts", FileForm.Csv)), ("kits", csv)], FileForm.Csv);
        await using var there = other.Db();
        Assert.Equal([(1, RevisionState.Superseded), (2, RevisionState.Released)], there.KitRevisions.OrderBy(r => r.Number).AsEnumerable().Select(r => (r.Number, r.State)));
    }

    [Theory]
    [InlineData("people", Roles.Administrator, true)]
    [InlineData("people", Roles.Planner | Roles.Storeroom | Roles.Technician | Roles.Manager, false)]
    [InlineData("plant", Roles.Planner, true)]
    [InlineData("plant", Roles.Manager, false)]
    [InlineData("parts", Roles.Manager, true)]
    [InlineData("stock", Roles.Storeroom, true)]
    [InlineData("orders", Roles.Technician, false)]
    public async Task Who_may_take_out_what(string file, Roles roles, bool may)
    {
        await using var bench = await ImportBench.New(databases);
        var began = false;
        var outcome = await new ExportFile(bench.Desk).Run(await bench.Add("Somebody", roles), file, FileForm.Csv, () =>
        {
            began = true;
            return new MemoryStream();
        }, Ct);
        Assert.Equal((may ? null : "not-allowed", may), (outcome.Refusal?.Code, began));
        Assert.Equal(may, ExportFile.MayRead(roles, file));
    }

    [Fact]
    public async Task The_whole_catalogue_is_what_the_person_may_read()
    {
        await using var bench = await ImportBench.New(databases);
        using var packed = new MemoryStream();
        Assert.True((await new ExportFile(bench.Desk).Run(await bench.Add("Clerk", Roles.Storeroom), ExportFile.Catalogue, FileForm.Csv, () => packed, Ct)).IsDone);
        using var archive = new System.IO.Compression.ZipArchive(packed);
        Assert.Equal(ExportFile.Files.Except(["plant", "people"]).Select(f => f + ".csv"), archive.Entries.Select(e => e.FullName));
    }

    [Fact]
    public async Task A_file_that_tells_what_happened_and_one_that_there_is_not_are_not_found()
    {
        await using var bench = await ImportBench.New(databases);
        foreach (var file in (string[])["happenings", "gadgets"])
        {
            var refusal = (await new ExportFile(bench.Desk).Run(bench.Actor, file, FileForm.Csv, () => throw new InvalidOperationException("Nothing may be written."), Ct)).Refusal!;
            Assert.Equal((RefusalKind.NotFound, "export-file-unknown"), (refusal.Kind, refusal.Code));
        }
    }

    [Fact]
    public void Every_file_but_what_happened_can_be_taken_out() =>
        Assert.Equal(ImportFile.Files.Select(f => f.File).Except(["happenings"]), ExportFile.Files);
}

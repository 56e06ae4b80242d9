using System.Text;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;
using Xunit;

namespace KitOrders.Operations.Tests.Imports;

/// <summary>What every import file has in common, shown with the files bins and parts.</summary>
public sealed class ReadingTests(TestDatabase databases)
{
    static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData("bin,walk_order\nA1,10\nA2,20\n")]
    [InlineData("bin,walk_order\r\nA1,10\r\nA2,20\r\n")]
    [InlineData("\uFEFFbin,walk_order\nA1,10\nA2,20")]
    [InlineData("walk_order,bin\n10,A1\n20,A2\n")]
    [InlineData("\"bin\",\"walk_order\"\n\"A1\",\"10\"\n\n\n\"A2\",20\n,\n\n")]
    [InlineData(" bin , walk_order \n A1 , 10 \n A2,20\n")]
    public async Task Files_are_read_however_they_were_saved(string csv)
    {
        await using var bench = await ImportBench.New(databases);
        var outcome = await new ImportFile(bench.Desk).Run(new Call(bench.Actor), "bins", new MemoryStream(Encoding.UTF8.GetBytes(csv)), false, null, Ct);
        Assert.Equal((2, 2), (outcome.Value.Rows, outcome.Value.Written));
        await using var db = bench.Db();
        Assert.Equal(["A1 10", "A2 20"], await db.Bins.OrderBy(b => b.WalkOrder).Select(b => b.Code + " " + b.WalkOrder).ToListAsync(Ct));
    }

    [Fact]
    public async Task Quotes_hold_commas_quotes_and_line_breaks()
    {
        await using var bench = await ImportBench.New(databases);
        await bench.Good("parts", "part,description,unit\nP-1,\"Elbow, 1/4\"\" brass\r\nlong\",each\n");
        await using var db = bench.Db();
        Assert.Equal("Elbow, 1/4\" brass\nlong", (await db.Parts.SingleAsync(Ct)).Description);
    }

    [Fact]
    public async Task Bytes_that_are_not_utf8_are_refused_in_words()
    {
        await using var bench = await ImportBench.New(databases);
        var outcome = await new ImportFile(bench.Desk).Run(new Call(bench.Actor), "bins", new MemoryStream([.. "bin,walk_order\nK"u8, 0xFC, .. "hl,1"u8]), false, null, Ct);
        var error = Assert.Single(outcome.Value.Errors);
        Assert.Equal("The file is not UTF-8 text. Save it as CSV UTF-8 and import it again.", error.Message);
    }

    [Theory]
    [InlineData("", "", "The file is empty. Its first row names the columns: bin, walk_order.")]
    [InlineData("bin,walk_order,colour\nA1,1,red\n", "colour", "There is no column colour. bins has the columns bin, walk_order.")]
    [InlineData("bin\nA1\n", "walk_order", "The column walk_order is missing. It must be present.")]
    [InlineData("bin,walk_order,bin\nA1,1,A1\n", "bin", "The column bin stands there twice. Keep one.")]
    [InlineData("bin;walk_order\nA1;1\n", "", "The cells are separated by semicolons or tabs. Save the file with commas between the cells.")]
    public async Task A_header_that_cannot_be_taken_is_refused_before_any_row(string csv, string column, string sentence)
    {
        await using var bench = await ImportBench.New(databases);
        Assert.Equal(new ImportError(0, column, sentence), Assert.Single(await bench.Bad("bins", csv)));
    }

    [Theory]
    [InlineData("A1,1,5\n", "", "The row has 3 cells where the header has 2. A cell with a comma in it must stand in quotes.")]
    [InlineData("A1,ten\n", "walk_order", "\"ten\" cannot be taken: walk_order must be a whole number from 0 to 10000000.")]
    [InlineData("A1,\n", "walk_order", "walk_order is empty. It must be given.")]
    [InlineData("=1+1,1\n", "bin", "\"=1+1\" would run as a formula when the file is opened in a spreadsheet. Begin it with another character.")]
    [InlineData("+A1,1\n", "bin", "\"+A1\" would run as a formula when the file is opened in a spreadsheet. Begin it with another character.")]
    [InlineData("@A1,1\n", "bin", "\"@A1\" would run as a formula when the file is opened in a spreadsheet. Begin it with another character.")]
    [InlineData("-2+3+cmd,1\n", "bin", "\"-2+3+cmd\" would run as a formula when the file is opened in a spreadsheet. Begin it with another character.")]
    [InlineData("A\u00011,1\n", "bin", "The cell holds a control character. Take it out.")]
    [InlineData("\"A\n1\",1\n", "bin", "The cell holds a line break. Write it in one line.")]
    [InlineData("A123456789012345678901234567890123456789X,1\n", "bin", "The cell has 41 characters; at most 40 are kept. Shorten it.")]
    public async Task A_cell_that_cannot_be_taken_is_named_by_row_and_column(string row, string column, string sentence)
    {
        await using var bench = await ImportBench.New(databases);
        Assert.Equal(sentence, await bench.BadCell("bins", "bin,walk_order\nGood,1\n" + row, 2, column));
        await using var db = bench.Db();
        Assert.False(await db.Bins.AnyAsync(Ct));
    }

    [Fact]
    public async Task A_key_that_stands_twice_is_refused_at_the_second_row()
    {
        await using var bench = await ImportBench.New(databases);
        Assert.Equal("bin A1 stands in row 1 already. Name it once.", await bench.BadCell("bins", "bin,walk_order\nA1,1\nA2,2\nA1,3\n", 3, "bin"));
    }

    [Fact]
    public async Task All_errors_are_listed_in_file_order_up_to_a_thousand()
    {
        await using var bench = await ImportBench.New(databases);
        var errors = await bench.Bad("bins", "bin,walk_order\n" + string.Concat(Enumerable.Range(1, 1_500).Select(i => $"B{i},x\n")));
        Assert.Equal(1_001, errors.Count);
        Assert.Equal(Enumerable.Range(1, 1_000), errors.Take(1_000).Select(e => e.Row));
        Assert.Equal("500 more errors are not listed. Correct these first, then try again.", errors[^1].Message);
    }

    [Fact]
    public async Task A_file_of_more_than_150000_rows_is_refused()
    {
        await using var bench = await ImportBench.New(databases);
        var csv = new StringBuilder("bin,walk_order\n");
        for (var i = 0; i <= 150_000; i++)
            csv.Append('B').Append(i).Append(",1\n");
        Assert.Equal("The file has more than 150,000 rows. Split it.", Assert.Single(await bench.Bad("bins", csv.ToString())).Message);
    }

    [Fact]
    public async Task A_quote_that_is_never_closed_is_found()
    {
        await using var bench = await ImportBench.New(databases);
        var errors = await bench.Bad("bins", "bin,walk_order\n\"A1,1\n" + string.Concat(Enumerable.Range(1, 3_000).Select(i => $"B{i},1\n")));
        Assert.NotEmpty(errors);
        await using var db = bench.Db();
        Assert.False(await db.Bins.AnyAsync(Ct));
    }

    [Fact]
    public async Task A_dry_run_finds_the_same_and_writes_nothing()
    {
        await using var bench = await ImportBench.New(databases);
        var good = (await bench.Run("bins", "bin,walk_order\nA1,1\n", dryRun: true)).Value;
        Assert.Equal((1, 0, false), (good.Rows, good.Written, good.Refused));
        var bad = (await bench.Run("bins", "bin,walk_order\nA1,x\n", dryRun: true)).Value;
        Assert.Equal((1, 0, true), (bad.Rows, bad.Written, bad.Refused));
        await using var db = bench.Db();
        Assert.False(await db.Bins.AnyAsync(Ct));
        Assert.False(await db.Audit.AnyAsync(Ct));
    }

    [Fact]
    public async Task One_bad_row_keeps_the_good_ones_out_and_leaves_no_trace()
    {
        await using var bench = await ImportBench.New(databases);
        await bench.Bad("bins", "bin,walk_order\nA1,1\nA2,2\nA3,x\n");
        await using var db = bench.Db();
        Assert.False(await db.Bins.AnyAsync(Ct));
        Assert.False(await db.Audit.AnyAsync(Ct));
    }

    [Fact]
    public async Task An_import_leaves_one_entry_in_the_audit_trail()
    {
        await using var bench = await ImportBench.New(databases);
        await bench.Good("bins", "bin,walk_order\nA1,1\nA2,2\n");
        await using var db = bench.Db();
        var entry = await db.Audit.SingleAsync(Ct);
        Assert.Equal(("import bins", "Imported bins: 2 rows."), (entry.Subject, entry.Sentence));
        Assert.Equal(bench.Actor.Person, entry.PersonId);
    }

    [Fact]
    public async Task A_file_that_does_not_exist_is_not_found()
    {
        await using var bench = await ImportBench.New(databases);
        var refusal = (await bench.Run("gadgets", "a\n1\n")).Refusal!;
        Assert.Equal((Rules.RefusalKind.NotFound, "import-file-unknown"), (refusal.Kind, refusal.Code));
    }

    [Theory]
    [InlineData("people", Roles.Planner, false)]
    [InlineData("people", Roles.Administrator, true)]
    [InlineData("plant", Roles.Planner, false)]
    [InlineData("parts", Roles.Planner, true)]
    [InlineData("parts", Roles.Storeroom, false)]
    [InlineData("stock", Roles.Storeroom, true)]
    [InlineData("incoming", Roles.Storeroom, true)]
    [InlineData("stock", Roles.Technician | Roles.Manager, false)]
    public async Task Who_may_import_what(string file, Roles roles, bool may)
    {
        await using var bench = await ImportBench.New(databases);
        var outcome = await bench.Run(file, "nothing\n", actor: await bench.Add("Somebody", roles));
        Assert.Equal(may ? null : "not-allowed", outcome.Refusal?.Code);
    }

    [Fact]
    public async Task The_same_key_with_the_same_body_imports_once_and_answers_the_same()
    {
        await using var bench = await ImportBench.New(databases);
        var call = new Call(bench.Actor, new CommandKey("k1", "hash"));
        var first = (await new ImportFile(bench.Desk).Run(call, "bins", "bin,walk_order\nA1,1\n", false, null, Ct)).Value;
        var again = (await new ImportFile(bench.Desk).Run(call, "bins", "bin,walk_order\nA1,1\n", false, null, Ct)).Value;
        Assert.Equal((first.Rows, first.Written), (again.Rows, again.Written));
        await using var db = bench.Db();
        Assert.Equal(1, await db.Audit.CountAsync(Ct));
    }
}

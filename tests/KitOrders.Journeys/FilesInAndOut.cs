using System.IO.Compression;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json.Nodes;
using Microsoft.Playwright;
using Xunit;

namespace KitOrders.Journeys;

/// <summary>Workbooks in, files out: over HTTP as a program does it, and in the browser as a planner does.</summary>
public sealed class FilesInAndOut(DemoHouse house)
{
    const string Workbook = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet";
    const string Main = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
    const string Linked = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";

    static CancellationToken Ct => TestContext.Current.CancellationToken;

    [Fact]
    public async Task A_program_sends_a_workbook_hears_the_place_of_what_is_wrong_and_takes_files_out()
    {
        using var http = await Client();
        var bin = $"X{Guid.NewGuid():N}"[..10];
        using var merged = await Send(http, Book(bin, "<mergeCells><mergeCell ref=\"A2:A3\"/></mergeCells>"), "");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, merged.StatusCode);
        var body = JsonNode.Parse(await merged.Content.ReadAsStringAsync(Ct))!;
        Assert.Equal(("import-refused", 0), ((string?)body["code"], (int)body["written"]!));
        Assert.Equal("bins!A2:A3", (string?)body["errors"]![0]!["place"]);
        using var notOne = await Send(http, "bin,walk_order\n"u8.ToArray(), "");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, notOne.StatusCode);

        using var dry = await Send(http, Book(bin), "?dryRun=true");
        Assert.Equal((HttpStatusCode.OK, 0), (dry.StatusCode, (int)JsonNode.Parse(await dry.Content.ReadAsStringAsync(Ct))!["written"]!));
        using var good = await Send(http, Book(bin), "");
        Assert.Equal((HttpStatusCode.OK, 1), (good.StatusCode, (int)JsonNode.Parse(await good.Content.ReadAsStringAsync(Ct))!["written"]!));

        using var csv = await http.GetAsync(new Uri("/api/exports/bins?format=csv", UriKind.Relative), Ct);
        Assert.Equal(("text/csv", "bins.csv"), (csv.Content.Headers.ContentType?.MediaType, csv.Content.Headers.ContentDisposition?.FileName));
        Assert.Contains($"\r\n{bin},77\r\n", await csv.Content.ReadAsStringAsync(Ct), StringComparison.Ordinal);
        using var book = await http.GetAsync(new Uri("/api/exports/bins?format=xlsx", UriKind.Relative), Ct);
        Assert.Equal((Workbook, "bins.xlsx"), (book.Content.Headers.ContentType?.MediaType, book.Content.Headers.ContentDisposition?.FileName));
        using var again = await Send(http, await book.Content.ReadAsByteArrayAsync(Ct), "?dryRun=true");
        Assert.Empty(JsonNode.Parse(await again.Content.ReadAsStringAsync(Ct))!["errors"]!.AsArray());
        using var all = await http.GetAsync(new Uri("/api/exports/catalogue?format=xlsx", UriKind.Relative), Ct);
        using var packed = new ZipArchive(await all.Content.ReadAsStreamAsync(Ct));
        Assert.Contains("parts.xlsx", packed.Entries.Select(e => e.FullName));
    }

    [Theory]
    [InlineData("/api/exports/happenings", HttpStatusCode.NotFound, "export-file-unknown")]
    [InlineData("/api/exports/parts?format=pdf", HttpStatusCode.UnprocessableEntity, "format-unknown")]
    public async Task What_cannot_be_taken_out_hears_problem_details(string path, HttpStatusCode status, string code)
    {
        using var http = await Client();
        using var answer = await http.GetAsync(new Uri(path, UriKind.Relative), Ct);
        Assert.Equal((status, "application/problem+json"), (answer.StatusCode, answer.Content.Headers.ContentType?.MediaType));
        Assert.Equal(code, (string?)JsonNode.Parse(await answer.Content.ReadAsStringAsync(Ct))!["code"]);
    }

    [Fact]
    public async Task A_planner_brings_in_a_workbook_hears_where_it_is_wrong_mends_it_and_takes_the_file_out()
    {
        var planner = await house.Window("Maura Kinsey");
        var page = planner.Page;
        var bin = $"Y{Guid.NewGuid():N}"[..10];
        await planner.Go("/setup/imports");
        await planner.Press("bins");
        await page.GetByLabel("The file, as .csv or .xlsx").SetInputFilesAsync(new FilePayload { Name = "bins.xlsx", MimeType = Workbook, Buffer = Book(bin, "<mergeCells><mergeCell ref=\"B2:B4\"/></mergeCells>") });
        await planner.Press("Import bins.xlsx");
        await planner.Sees("Nothing was written.");
        await planner.Sees("Cells B2:B4 of sheet bins are merged.");
        await Assertions.Expect(page.GetByRole(AriaRole.Cell, new() { Name = "bins!B2:B4" })).ToBeVisibleAsync();
        await planner.Free("a workbook refused");

        await page.GetByLabel("The file, as .csv or .xlsx").SetInputFilesAsync(new FilePayload { Name = "bins.xlsx", MimeType = Workbook, Buffer = Book(bin) });
        await planner.Press("Import bins.xlsx");
        await planner.Sees("Written: 1 rows.");

        await planner.Follow("Exports");
        await page.WaitForURLAsync("**/setup/exports");
        var taken = await page.RunAndWaitForDownloadAsync(() => planner.Follow("bins.csv"));
        Assert.Equal("bins.csv", taken.SuggestedFilename);
        Assert.Contains($"{bin},77", await File.ReadAllTextAsync(await taken.PathAsync(), Ct), StringComparison.Ordinal);
        Assert.Equal(0, await page.GetByText("people.csv").CountAsync());
        await planner.Ended();
    }

    async Task<HttpClient> Client()
    {
        var http = new HttpClient { BaseAddress = (await house.App).Address };
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", RunningApp.Token);
        return http;
    }

    static Task<HttpResponseMessage> Send(HttpClient http, byte[] book, string query)
    {
        var content = new ByteArrayContent(book);
        content.Headers.ContentType = new MediaTypeHeaderValue(Workbook);
        
        return http.PostAsync(new Uri($"/api/imports/bins{query}", UriKind.Relative), content, Ct);
    }

    /// <summary>A workbook of one bin.</summary>
    static byte[] Book(string bin, string after = "")
    {
        using var memory = new MemoryStream();
        using (var archive = new ZipArchive(memory, ZipArchiveMode.Create, leaveOpen: true))
            foreach (var (name, text) in new[]
            {
                ("[Content_Types].xml", "<Types xmlns=\"http://schemas.openxmlformats.org/package/2006/content-types\"><Override PartName=\"/xl/workbook.xml\" ContentType=\"application/vnd.openxmlformats-officedocument.spreadsheetml.sheet.main+xml\"/></Types>"),
                ("_rels/.rels", $"<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"><Relationship Id=\"r1\" Type=\"{Linked}/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>"),
                ("xl/workbook.xml", $"<workbook xmlns=\"{Main}\" xmlns:r=\"{Linked}\"><sheets><sheet name=\"bins\" sheetId=\"1\" r:id=\"r1\"/></sheets></workbook>"),
                ("xl/_rels/workbook.xml.rels", $"<Relationships xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"><Relationship Id=\"r1\" Type=\"{Linked}/worksheet\" Target=\"sheet.xml\"/></Relationships>"),
                ("xl/sheet.xml", $"<worksheet xmlns=\"{Main}\"><sheetData><row><c t=\"str\"><v>bin</v></c><c t=\"str\"><v>walk_order</v></c></row><row><c t=\"str\"><v>{bin}</v></c><c><v>77</v></c></row></sheetData>{after}</worksheet>"),
            })
            {
                using var part = archive.CreateEntry(name).Open();
                part.Write(Encoding.UTF8.GetBytes(text));
            }
        return memory.ToArray();
    }
}

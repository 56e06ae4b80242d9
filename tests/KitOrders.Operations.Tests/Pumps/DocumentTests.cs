using KitOrders.Operations.Procedures;
using KitOrders.Operations.Pumps;
using KitOrders.Operations.Tests.Imports;
using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;
using Xunit;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Pumps;

public sealed class DocumentTests(TestDatabase databases) : IAsyncLifetime
{
    static readonly byte[] pdf = [.. "%PDF-1.7\n%%EOF\n"u8];
    static readonly byte[] png = [137, 80, 78, 71, 13, 10, 26, 10, 0, 0, 0, 13];

    ImportBench plant = null!;
    Call planner = null!;

    public async ValueTask InitializeAsync()
    {
        plant = await ImportBench.New(databases);
        foreach (var file in new[] { "plant", "fluids", "pump-models", "pumps" })
            await plant.Good(file, TestPlants.WorkedPlant.Files.Single(f => f.File == file).Csv);
        planner = new Call(await plant.Add("Petra Planner", Roles.Planner));
    }

    public ValueTask DisposeAsync() => plant.DisposeAsync();

    [Fact]
    public async Task A_manual_of_the_model_and_a_certificate_of_the_pump_stand_on_the_pumps_list()
    {
        var manual = Must(await Add(new NewDocument("M30", null, DocumentKind.Manual, " Air valve manual ", "4", "C:\\papers\\m30.pdf"), pdf));
        Must(await Add(new NewDocument(null, "S-1", DocumentKind.Certificate, "Pressure test", null, "test.png"), png));
        var ofOne = Must(await Shelf.OfPump("S-1", Ct));
        Assert.Equal([("Air valve manual", "M30"), ("Pressure test", (string?)null)], ofOne.Select(d => (d.Title, d.Model)));
        Assert.Equal([("Air valve manual", "4", "m30.pdf", "application/pdf", pdf.Length, "Petra Planner")],
            Must(await Shelf.OfModel("M30", Ct)).Select(d => (d.Title, d.Edition, d.FileName, d.ContentType, d.Bytes, d.AddedBy)));
        Assert.Equal(["Air valve manual"], Must(await Shelf.OfPump("S-2", Ct)).Select(d => d.Title));
        var file = Must(await Shelf.One(manual, Ct));
        Assert.Equal(pdf, file.Content.ToArray());
        Assert.Equal("m30.pdf", file.FileName);
    }

    [Fact]
    public async Task A_document_that_was_taken_off_the_list_still_opens_and_can_be_attached_anew()
    {
        var manual = Must(await Add(Manual, pdf));
        Refused(await Add(Manual, pdf), "document-there");
        Must(await new RemoveDocument(plant.Desk).Run(planner, manual, Ct));
        Assert.Empty(Must(await Shelf.OfModel("M30", Ct)));
        Assert.Equal(pdf, Must(await Shelf.One(manual, Ct)).Content.ToArray());
        Refused(await new RemoveDocument(plant.Desk).Run(planner, manual, Ct), "document-removed");
        Must(await Add(Manual, pdf));
        Assert.Single(Must(await Shelf.OfModel("M30", Ct)));
    }

    [Fact]
    public async Task What_cannot_be_attached_is_refused_at_its_field_and_nothing_is_kept()
    {
        Assert.Contains("title", Refused(await Add(Manual with { Title = " " }, pdf), "title-missing").Errors.Keys);
        Refused(await Add(Manual with { Title = new string('t', 201) }, pdf), "title-missing");
        Assert.Contains("edition", Refused(await Add(Manual with { Edition = new string('e', 61) }, pdf), "edition-too-long").Errors.Keys);
        Refused(await Add(Manual with { Serial = "S-1" }, pdf), "owner-missing");
        Refused(await Add(Manual with { Model = null }, pdf), "owner-missing");
        Refused(await Add(Manual with { Model = "M99" }, pdf), "model-unknown");
        Refused(await Add(new NewDocument(null, "S-9", DocumentKind.Manual, "T", null, "t.pdf"), pdf), "pump-unknown");
        Assert.Contains("file", Refused(await Add(Manual, [.. "<html>"u8]), "document-type").Errors.Keys);
        Refused(await Add(Manual, new byte[DocumentFile.MostBytes + 1]), "document-too-large");
        Assert.Empty(Must(await Shelf.OfModel("M30", Ct)));
    }

    [Fact]
    public async Task What_is_not_there_is_said()
    {
        Refused(await Shelf.One(99, Ct), "document-unknown");
        Refused(await Shelf.OfModel("M99", Ct), "model-unknown");
        Refused(await Shelf.OfPump("S-9", Ct), "pump-unknown");
        Refused(await new RemoveDocument(plant.Desk).Run(planner, 99, Ct), "document-unknown");
        Refused(await new PictureShelf(plant.Desk).One(new string('a', 64), Ct), "picture-unknown");
    }

    [Fact]
    public async Task Only_planners_attach_and_take_off()
    {
        var technician = new Call(await plant.Add("Tess Technician", Roles.Technician));
        Refused(await new AddDocument(plant.Desk).Run(technician, Manual, pdf, Ct), "not-allowed");
        var manual = Must(await Add(Manual, pdf));
        Refused(await new RemoveDocument(plant.Desk).Run(technician, manual, Ct), "not-allowed");
        Refused(await new AddPicture(plant.Desk).Run(technician, png, Ct), "not-allowed");
    }

    [Fact]
    public async Task A_name_that_is_all_folders_or_far_too_long_is_made_one_that_can_be_kept()
    {
        Must(await Add(Manual with { FileName = "a/b/" }, pdf));
        Must(await Add(Manual with { FileName = new string('n', 500) + ".png" }, png));
        Assert.Equal(["document", new string('n', 196) + ".png"], Must(await Shelf.OfModel("M30", Ct)).OrderBy(d => d.Id).Select(d => d.FileName));
    }

    [Fact]
    public async Task A_picture_sent_twice_is_kept_once_and_another_file_is_refused()
    {
        var sha = Must(await new AddPicture(plant.Desk).Run(planner, png, Ct));
        Assert.Equal(sha, Must(await new AddPicture(plant.Desk).Run(planner, png, Ct)));
        await using var db = plant.Db();
        Assert.Equal(1, await db.PictureFiles.CountAsync(Ct));
        var kept = Must(await new PictureShelf(plant.Desk).One(sha, Ct));
        Assert.Equal(("image/png", png.Length), (kept.ContentType, kept.Content.Length));
        Assert.Contains("picture", Refused(await new AddPicture(plant.Desk).Run(planner, pdf, Ct), "photograph-type").Errors.Keys);
    }

    static readonly NewDocument Manual = new("M30", null, DocumentKind.Manual, "Manual", "4", "m30.pdf");

    DocumentShelf Shelf => new(plant.Desk);

    Task<Outcome<int>> Add(NewDocument document, byte[] content) => new AddDocument(plant.Desk).Run(planner, document, content, Ct);
}

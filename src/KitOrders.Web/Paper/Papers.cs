using KitOrders.Operations.Orders;
using KitOrders.Operations.People;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Web.Access;
using KitOrders.Web.Api;
using Microsoft.Net.Http.Headers;

namespace KitOrders.Web.Paper;

/// <summary>Where the papers are fetched: opened in the browser, with a name for those who keep them. <c>?size=letter</c> for Letter.</summary>
static class Papers
{
    const int MostBins = 2000;

    const Roles Readers = Roles.Planner | Roles.Storeroom | Roles.Technician | Roles.Manager;

    public static void Map(IEndpointRouteBuilder app)
    {
        var papers = app.MapGroup("/paper").ExcludeFromDescription();
        papers.MapGet("/orders/{number}/job-card.pdf", (Printing printing, OrderBook book, string number, string? size) => printing.Order(book, number, size, "Job card", JobCard.Print))
            .RequireAuthorization(new ForAttribute(Readers));
        papers.MapGet("/orders/{number}/kit-tag.pdf", (Printing printing, OrderBook book, string number, string? size) => printing.Order(book, number, size, "Kit tag", KitTag.Print))
            .RequireAuthorization(new ForAttribute(Readers));
        papers.MapGet("/orders/{number}/pick-list.pdf", (Printing printing, PickRun runs, string number, string? size) => printing.Run(runs, number, size))
            .RequireAuthorization(new ForAttribute(Readers));
        papers.MapGet("/pick-list.pdf", (Printing printing, PickRun runs, string? orders, string? size) => printing.Run(runs, orders, size))
            .RequireAuthorization(new ForAttribute(Readers));
        papers.MapGet("/bins.pdf", Bins).RequireAuthorization(new ForAttribute(Roles.Storeroom | Roles.Planner));
    }

    /// <param name="bins">Bins named one by one; without them all whose code begins as asked.</param>
    static async Task<IResult> Bins(Printing printing, StoreFinder finder, string? bins, string? begins, string? size, CancellationToken ct)
    {
        var asked = Printing.Split(bins);
        var known = (await finder.Bins(asked.Count == 0 ? begins : null, MostBins, ct)).Select(b => b.Bin).ToList();
        var chosen = asked.Count == 0 ? known : [.. known.Where(asked.Contains)];
        if (asked.Except(chosen).ToList() is { Count: > 0 } unknown)
            return Problem.Of(Refusal.NotFound("bin-unknown", $"No bin is called {string.Join(", ", unknown)}. Nothing was printed; look at the list of bins."));
        return chosen.Count == 0
            ? Problem.Of(Refusal.NotFound("bin-unknown", "No bin begins like that. Look at the list of bins, or import bins."))
            : await printing.File(size, "Bin labels", chosen.Count == 1 ? chosen[0] : $"{chosen[0]} to {chosen[^1]}", (paper, head) => BinLabels.Print(chosen, paper, head));
    }
}

/// <summary>What each paper needs of its request.</summary>
sealed class Printing(PlantView plant, IHttpContextAccessor context, TimeProvider clock)
{
    HttpContext Http => context.HttpContext!;

    public async Task<IResult> Order(OrderBook book, string number, string? size, string title, Func<OrderView, PaperSize, PaperHead, byte[]> print)
    {
        var found = await book.One(number, Http.RequestAborted);
        return found.Refusal is { } refusal ? Problem.Of(refusal)
            : await File(size, title, found.Value.Number, (paper, head) => print(found.Value, paper, head));
    }

    public async Task<IResult> Run(PickRun runs, string? orders, string? size)
    {
        var asked = Split(orders);
        if (asked.Count == 0)
            return Problem.Of(Refusal.Field("orders", "orders-missing", "Name the orders of the run: orders=10482,10486."));
        var run = await runs.Read(asked, Http.RequestAborted);
        if (run.Unknown.Count > 0)
            return Problem.Of(Refusal.NotFound("order-unknown", $"There is no order {string.Join(", ", run.Unknown)}. Nothing was printed."));
        return await File(size, "Pick list", PickList.Of(run), (paper, head) => PickList.Print(run, paper, head));
    }

    public async Task<IResult> File(string? size, string title, string of, Func<PaperSize, PaperHead, byte[]> print)
    {
        var here = await plant.Read(Http.RequestAborted);
        // Where torque is read in pounds, printers hold Letter.
        var paper = PaperSize.Read(size, here.Units == "imperial" ? PaperSize.Letter : PaperSize.A4);
        if (paper.Refusal is { } refusal)
            return Problem.Of(refusal);
        var head = new PaperHead(title, of, here.Name, here.TimeOf(clock.GetUtcNow()), Http.User.ActorOf().Name);
        var shown = new ContentDispositionHeaderValue("inline");
        shown.SetHttpFileName($"{title.ToLowerInvariant().Replace(' ', '-')}-{of.Replace(' ', '-').Replace(',', '-')}.pdf");
        Http.Response.Headers.ContentDisposition = shown.ToString();
        // The paper is true at the moment it is asked for and at no other.
        Http.Response.Headers.CacheControl = "no-store";
        return Results.Bytes(print(paper.Value, head), "application/pdf");
    }

    public static List<string> Split(string? list) => [.. (list ?? "").Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries).Distinct()];
}

using KitOrders.Operations.Stock;
using KitOrders.Rules;

namespace KitOrders.Web.Api;

/// <summary>Stock over HTTP: what moves it, and the ledger.</summary>
static class StockApi
{
    sealed record CountBody(string? Part, string? Bin, string? Lot, decimal? Counted, bool Accept, string? Reason);

    sealed record ReasonBody(string? Reason, string? CuredOn);

    sealed record InspectionBody(bool? Passed, string? Note);

    public static void Map(RouteGroupBuilder api)
    {
        var stock = api.MapGroup("").WithTags("Stock");
        stock.MapPost("/receipts", (ApiCall call, ReceiveLot receive) => call.Write<Receipt, ReceiptAnswer>((c, b) => receive.Run(c, b, call.Ct)));
        stock.MapPost("/counts", (ApiCall call, CountBin count) => call.Write<CountBody, CountAnswer>(async (c, b) => b.Counted is { } counted
            ? await count.Run(c, new Count(b.Part ?? "", b.Bin ?? "", b.Lot ?? "", counted) { Accept = b.Accept, Reason = b.Reason }, call.Ct)
            : Refusal.Field("counted", "counted-missing", "Say what you counted; 0 for an empty bin.")));
        stock.MapPost("/returns", (ApiCall call, ReturnStock give) => call.Write<Return, ReturnAnswer>((c, b) => give.Run(c, b, call.Ct)));
        stock.MapPost("/scraps", (ApiCall call, ScrapStock scrap) => call.Write<Scrap, ScrapAnswer>((c, b) => scrap.Run(c, b, call.Ct)));
        stock.MapPost("/transfers", (ApiCall call, TransferStock move) => call.Write<Transfer, TransferAnswer>((c, b) => move.Run(c, b, call.Ct)));
        stock.MapPost("/movements/{movement:long}/correction", (ApiCall call, CorrectMovement correct, long movement) =>
            call.Write<ReasonBody, CorrectionAnswer>((c, b) => correct.Run(c, movement, b.Reason ?? "", call.Ct)));
        Lots(stock);
        Reads(stock);
    }

    /// <summary>A part's number may hold a slash, so the lot comes as a query.</summary>
    static void Lots(RouteGroupBuilder stock)
    {
        stock.MapPost("/lots/quarantine", (ApiCall call, QuarantineLot quarantine, string? part, string? lot) =>
            call.Write<ReasonBody, LotAnswer>((c, b) => quarantine.Run(c, part ?? "", lot ?? "", b.Reason ?? "", call.Ct)));
        stock.MapPost("/lots/release", (ApiCall call, ReleaseQuarantine release, string? part, string? lot) =>
            call.Write<ReasonBody, LotAnswer>((c, b) => release.Run(c, part ?? "", lot ?? "", b.Reason ?? "", b.CuredOn, call.Ct)));
        stock.MapPost("/lots/inspection", (ApiCall call, InspectLot inspect, string? part, string? lot) =>
            call.Write<InspectionBody, LotAnswer>(async (c, b) => b.Passed is { } passed
                ? await inspect.Run(c, part ?? "", lot ?? "", passed, b.Note ?? "", call.Ct)
                : Refusal.Field("passed", "passed-missing", "Say whether the lot passed its inspection.")));
    }

    static void Reads(RouteGroupBuilder stock)
    {
        stock.MapGet("/parts/{**part}", async (PartLedger ledger, string part, string? on, CancellationToken ct) =>
        {
            var day = QueryDay.Read(on, "on");
            return day.Refusal is { } unreadable ? Problem.Of(unreadable)
                // An encoded slash stays encoded in the path, so that it is one with a plain one here.
                : ApiCall.Read(await ledger.Read(part.Replace("%2F", "/", StringComparison.OrdinalIgnoreCase), day.Value, ct));
        });
        stock.MapGet("/movements", async (MovementsPage movements, string? part, string? after, int? pageSize, CancellationToken ct) =>
            ApiCall.Read(await movements.Read(part, after, pageSize, false, ct)));
        stock.MapGet("/shelf-life", async (ShelfLifeList lots, int? days, CancellationToken ct) =>
            ApiCall.Read<List<ShelfLifeRow>>((await lots.Read(days ?? 365, ct)).ToList()));
        stock.MapGet("/stock-truth", async (StockTruth truth, CancellationToken ct) => ApiCall.Read<List<TruthCheck>>((await truth.Read(ct)).ToList()));
    }
}

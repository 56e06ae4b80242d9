using KitOrders.Operations;
using KitOrders.Operations.Stock;
using KitOrders.Rules;

namespace KitOrders.Web.Api;

/// <summary>Stock over HTTP: what moves it, and the ledger.</summary>
static class StockApi
{
    sealed record CountBody(string? Part = null, string? Bin = null, string? Lot = null, decimal? Counted = null, bool? Accept = null, string? Reason = null);

    sealed record ReasonBody(string? Reason = null, string? CuredOn = null);

    sealed record InspectionBody(bool? Passed = null, string? Note = null);

    public static void Map(RouteGroupBuilder api)
    {
        var stock = api.MapGroup("").WithTags("Stock");
        stock.MapPost("/receipts", (ApiCall call, ReceiveLot receive) => call.Write<Receipt, ReceiptAnswer>((c, b) => receive.Run(c, b, call.Ct)))
            .Does<Receipt, ReceiptAnswer>("Receives a quantity into a bin; waiting shortages are covered at once.");
        stock.MapPost("/counts", (ApiCall call, CountBin count) => call.Write<CountBody, CountAnswer>(async (c, b) => b.Counted is { } counted
            ? await count.Run(c, new Count(b.Part ?? "", b.Bin ?? "", b.Lot ?? "", counted) { Accept = b.Accept ?? false, Reason = b.Reason }, call.Ct)
            : Refusal.Field("counted", "counted-missing", "Say what you counted; 0 for an empty bin.")))
            .Does<CountBody, CountAnswer>("Keeps a count; below what is reserved it asks which orders go short.");
        stock.MapPost("/returns", (ApiCall call, ReturnStock give) => call.Write<Return, ReturnAnswer>((c, b) => give.Run(c, b, call.Ct)))
            .Does<Return, ReturnAnswer>("Takes picked parts back.");
        stock.MapPost("/scraps", (ApiCall call, ScrapStock scrap) => call.Write<Scrap, ScrapAnswer>((c, b) => scrap.Run(c, b, call.Ct)))
            .Does<Scrap, ScrapAnswer>("Scraps free stock, with the reason.");
        stock.MapPost("/transfers", (ApiCall call, TransferStock move) => call.Write<Transfer, TransferAnswer>((c, b) => move.Run(c, b, call.Ct)))
            .Does<Transfer, TransferAnswer>("Moves free stock to another bin.");
        stock.MapPost("/incoming", (ApiCall call, RecordIncoming record, PartLedger ledger) => call.Write<IncomingAsk, string, PartLedgerView>(
            (c, b) => record.Run(c, b, call.Ct), part => ledger.Read(part, null, call.Ct)))
            .Does<IncomingAsk, PartLedgerView>("Records a purchase that is not received yet; it says when a shortage ends.");
        stock.MapPost("/movements/{movement:long}/correction", (ApiCall call, CorrectMovement correct, long movement) =>
            call.Write<ReasonBody, CorrectionAnswer>((c, b) => correct.Run(c, movement, b.Reason ?? "", call.Ct)))
            .Does<ReasonBody, CorrectionAnswer>("Takes a movement back by a new one that names it.");
        Lots(stock);
        Reads(stock);
    }

    /// <summary>A part's number may hold a slash, so the lot comes as a query.</summary>
    static void Lots(RouteGroupBuilder stock)
    {
        stock.MapPost("/lots/quarantine", (ApiCall call, QuarantineLot quarantine, string? part, string? lot) =>
            call.Write<ReasonBody, LotAnswer>((c, b) => quarantine.Run(c, part ?? "", lot ?? "", b.Reason ?? "", call.Ct)))
            .Does<ReasonBody, LotAnswer>("Keeps a lot from being used, with the reason.");
        stock.MapPost("/lots/release", (ApiCall call, ReleaseQuarantine release, string? part, string? lot) =>
            call.Write<ReasonBody, LotAnswer>((c, b) => release.Run(c, part ?? "", lot ?? "", b.Reason ?? "", b.CuredOn, call.Ct)))
            .Does<ReasonBody, LotAnswer>("Lets a quarantined lot be used.");
        stock.MapPost("/lots/inspection", (ApiCall call, InspectLot inspect, string? part, string? lot) =>
            call.Write<InspectionBody, LotAnswer>(async (c, b) => b.Passed is { } passed
                ? await inspect.Run(c, part ?? "", lot ?? "", passed, b.Note ?? "", call.Ct)
                : Refusal.Field("passed", "passed-missing", "Say whether the lot passed its inspection.")))
            .Does<InspectionBody, LotAnswer>("Records the inspection that extends a lot once.");
    }

    static void Reads(RouteGroupBuilder stock)
    {
        stock.MapGet("/parts/{**part}", async (PartLedger ledger, string part, string? on, CancellationToken ct) =>
        {
            var day = QueryDay.Read(on, "on");
            return day.Refusal is { } unreadable ? Problem.Of(unreadable)
                : ApiCall.Read(await ledger.Read(PathName.Of(part), day.Value, ct));
        }).Does<PartLedgerView>("A part with its lots, totals, holders and promises.");
        stock.MapGet("/lots/{**lot}", async (LotTrace trace, string lot, CancellationToken ct) =>
        {
            var found = await trace.Find(PathName.Of(lot), ct);
            return found.Refusal is { } unknown ? Problem.Of(unknown) : ApiCall.Read<List<TracedLot>>(found.Value.ToList());
        }).Does<List<TracedLot>>("Where a lot is: pumps, orders and shelves; one entry for each part that has a lot of this number.");
        stock.MapGet("/movements", async (MovementsPage movements, string? part, string? after, int? pageSize, CancellationToken ct) =>
            ApiCall.Read(await movements.Read(part, string.IsNullOrEmpty(after) ? null : after, pageSize, false, ct)))
            .Does<Page<MovementRow>>("The stock ledger, oldest first.");
        stock.MapGet("/shelf-life", async (ShelfLifeList lots, int? days, CancellationToken ct) =>
            ApiCall.Read<List<ShelfLifeRow>>((await lots.Read(days ?? 365, ct)).ToList()))
            .Does<List<ShelfLifeRow>>("Lots by their last good day, and what that would break.");
        stock.MapGet("/stock-truth", async (StockTruth truth, CancellationToken ct) => ApiCall.Read<List<TruthCheck>>((await truth.Read(ct)).ToList()))
            .Does<List<TruthCheck>>("What must be true of stock, and the rows that break it.");
    }
}

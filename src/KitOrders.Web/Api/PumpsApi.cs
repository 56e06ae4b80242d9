using KitOrders.Operations.Kits;
using KitOrders.Operations.Pumps;
using KitOrders.Rules;

namespace KitOrders.Web.Api;

/// <summary>Pumps over HTTP, and whether a kit suits one.</summary>
static class PumpsApi
{
    sealed record StrokesBody(long? Strokes = null, DateOnly? On = null, bool? MeterReplaced = null, string? Note = null);

    sealed record SwapBody(string? Serial = null, DateOnly? On = null, string? Reason = null, string? To = null);

    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/pumps/{**tag}", async (PumpRecord record, string tag, CancellationToken ct) => ApiCall.Read(await record.One(PathName.Of(tag), ct))).WithTags("Pumps");
        api.MapPost("/pumps/{tag}/stroke-readings", (ApiCall call, RecordStrokes record, PumpRecord pumps, string tag) => call.Write<StrokesBody, string, PumpView>(
            async (c, b) => b.Strokes is { } strokes ? await record.Run(c, PathName.Of(tag), new StrokesInput(strokes, b.On, b.MeterReplaced ?? false, b.Note), call.Ct)
                : Refusal.Field("strokes", "strokes-missing", "Say what the stroke meter shows."),
            _ => pumps.One(PathName.Of(tag), call.Ct))).WithTags("Pumps").Does<StrokesBody, PumpView>("Records a reading of the pump's stroke meter; below the last one only where the meter was replaced.");
        api.MapPost("/pumps/{tag}/swap", (ApiCall call, SwapPump swap, PumpRecord pumps, string tag) => call.Write<SwapBody, string, PumpView>(
            async (c, b) => string.IsNullOrWhiteSpace(b.Serial) ? Refusal.Field("serial", "serial-missing", "Name the pump that comes in by its serial number.")
                : await swap.Run(c, PathName.Of(tag), new SwapInput(b.Serial, b.Reason ?? "", b.On, b.To), call.Ct),
            at => pumps.One(at, call.Ct))).WithTags("Pumps").Does<SwapBody, PumpView>("Puts another pump in the place of the one at the position; what belongs to the place stays, what belongs to the pump goes with it.");
        api.MapGet("/suitability", async (SuitabilityOf suits, string? pump, string? kit, string? on, CancellationToken ct) =>
        {
            var day = QueryDay.Read(on, "on");
            return day.Refusal is { } unreadable ? Problem.Of(unreadable) : ApiCall.Read(await suits.Check(pump, kit, day.Value, ct));
        }).WithTags("Pumps");
    }
}

using KitOrders.Operations.Kits;
using KitOrders.Operations.Pumps;

namespace KitOrders.Web.Api;

/// <summary>Pumps over HTTP, and whether a kit suits one.</summary>
static class PumpsApi
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/pumps/{**tag}", async (PumpRecord record, string tag, CancellationToken ct) => ApiCall.Read(await record.One(PathName.Of(tag), ct))).WithTags("Pumps");
        api.MapGet("/suitability", async (SuitabilityOf suits, string? pump, string? kit, string? on, CancellationToken ct) =>
        {
            var day = QueryDay.Read(on, "on");
            return day.Refusal is { } unreadable ? Problem.Of(unreadable) : ApiCall.Read(await suits.Check(pump, kit, day.Value, ct));
        }).WithTags("Pumps");
    }
}

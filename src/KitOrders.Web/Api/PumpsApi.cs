using KitOrders.Operations.Kits;
using KitOrders.Operations.Pumps;

namespace KitOrders.Web.Api;

/// <summary>Pumps over HTTP, and whether a kit suits one.</summary>
static class PumpsApi
{
    public static void Map(RouteGroupBuilder api)
    {
        api.MapGet("/pumps/{tag}", async (PumpRecord record, string tag, CancellationToken ct) => ApiCall.Read(await record.One(tag, ct))).WithTags("Pumps");
        api.MapGet("/suitability", async (SuitabilityOf suits, string? pump, string? kit, DateOnly? on, CancellationToken ct) =>
            ApiCall.Read(await suits.Check(pump, kit, on, ct))).WithTags("Pumps");
    }
}

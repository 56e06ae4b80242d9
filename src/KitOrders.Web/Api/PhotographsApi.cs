using KitOrders.Operations.Orders;
using Microsoft.Net.Http.Headers;

namespace KitOrders.Web.Api;

/// <summary>
/// Photographs of an order's steps over HTTP: the picture itself is the body. What is kept is told by its first bytes, so the
/// type that a sender states is not read.
/// </summary>
static class PhotographsApi
{
    public static void Map(RouteGroupBuilder api)
    {
        var orders = api.MapGroup("/orders/{number}").WithTags("Photographs");
        orders.MapPut("/steps/{step:int}/photograph", (ApiCall call, KeepPhotograph keep, OrderBook book, string number, int step) =>
            call.WriteFile((c, content) => keep.Run(c, PathName.Of(number), step, content, call.Ct), order => book.One(order, call.Ct)));
        orders.MapGet("/photographs", async (Photographs photographs, string number, CancellationToken ct) =>
            ApiCall.Read(await photographs.Of(PathName.Of(number), ct)));
        orders.MapGet("/steps/{step:int}/photographs/{sha256}", One);
    }

    static async Task<IResult> One(Photographs photographs, string number, int step, string sha256, CancellationToken ct)
    {
        var found = await photographs.One(PathName.Of(number), step, sha256, ct);
        return found.Refusal is { } refusal
            ? Problem.Of(refusal)
            : Results.Bytes(found.Value.Content, found.Value.ContentType, entityTag: new EntityTagHeaderValue($"\"{sha256}\""));
    }
}

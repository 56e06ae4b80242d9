using KitOrders.Operations.People;
using KitOrders.Rules;
using KitOrders.Web.Access;

namespace KitOrders.Web.Api;

static class AuditApi
{
    const int Usual = 100;

    public static void Map(RouteGroupBuilder api) => api.MapGet("/audit", async (
        HttpContext http, AuditTrail trail, string? person, string? operation, string? text, string? after, int? pageSize, CancellationToken ct) =>
    {
        long? last = null;
        if (!string.IsNullOrEmpty(after))
        {
            if (!long.TryParse(after, out var id))
                return Problem.Of(Refusal.Field("after", "after-unknown", "after is what the page before gave as next."));
            last = id;
        }
        return ApiCall.Read(await trail.Read(http.User.ActorOf(), new AuditFilter(person, operation, text), last, pageSize ?? Usual, ct));
    }).WithTags("Audit");
}

using System.Globalization;
using System.Threading.RateLimiting;
using Microsoft.AspNetCore.RateLimiting;

namespace KitOrders.Web.Access;

/// <summary>
/// How much a script may ask: never less than 50 calls at once and 6,000 a minute. The limits lie a little above, so that
/// neither the edge of a minute nor an answer still on its way takes anything from that.
/// </summary>
static class CallLimits
{
    public const int AtOnce = 64;

    public const int PerMinute = 6_600;

    public static void Add(RateLimiterOptions options)
    {
        options.GlobalLimiter = PartitionedRateLimiter.CreateChained(
            PartitionedRateLimiter.Create<HttpContext, string>(http => Of(http, who => RateLimitPartition.GetFixedWindowLimiter(
                who, _ => new FixedWindowRateLimiterOptions { PermitLimit = PerMinute, Window = TimeSpan.FromMinutes(1), QueueLimit = 0 }))),
            PartitionedRateLimiter.Create<HttpContext, string>(http => Of(http, who => RateLimitPartition.GetConcurrencyLimiter(
                who, _ => new ConcurrencyLimiterOptions { PermitLimit = AtOnce, QueueLimit = 0 }))));
        options.OnRejected = async (context, _) => await ApiProblem.TooMany(context.HttpContext);
    }

    static RateLimitPartition<string> Of(HttpContext http, Func<string, RateLimitPartition<string>> limited)
    {
        if (!TokenAuthentication.IsOffered(http.Request))
        {
            return RateLimitPartition.GetNoLimiter("");
        }

        // Tokens that stand for nobody count by address, so that trying many does not help.
        var who = http.User.TryActorOf()?.Person.Value.ToString(CultureInfo.InvariantCulture) ?? "from " + http.Connection.RemoteIpAddress;
        return limited(who);
    }
}

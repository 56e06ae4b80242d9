using System.Security.Claims;
using System.Threading.RateLimiting;
using KitOrders.Operations;
using KitOrders.Rules.People;
using KitOrders.Web.Access;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.RateLimiting;
using Xunit;

namespace KitOrders.Web.Tests.Access;

public sealed class CallLimitsTests : IDisposable
{
    readonly PartitionedRateLimiter<HttpContext> limiter;

    public CallLimitsTests()
    {
        var options = new RateLimiterOptions();
        CallLimits.Add(options);
        limiter = options.GlobalLimiter!;
    }

    [Fact]
    public void Fifty_calls_at_once_always_go_through_and_many_more_do_not()
    {
        var leases = Enumerable.Range(0, 100).Select(_ => limiter.AttemptAcquire(By(1))).ToList();
        Assert.All(leases.Take(50), lease => Assert.True(lease.IsAcquired));
        Assert.False(leases[^1].IsAcquired);
        using var somebodyElse = limiter.AttemptAcquire(By(2));
        Assert.True(somebodyElse.IsAcquired);
        leases.ForEach(lease => lease.Dispose());
    }

    [Fact]
    public void Six_thousand_calls_a_minute_always_go_through_and_many_more_do_not()
    {
        var taken = 0;
        for (var call = 0; call < 9_000; call++)
        {
            using var lease = limiter.AttemptAcquire(By(1));
            taken += lease.IsAcquired ? 1 : 0;
        }

        Assert.InRange(taken, 6_000, 8_999);
    }

    [Fact]
    public void A_person_at_a_page_is_not_counted()
    {
        var page = new DefaultHttpContext();
        Assert.All(Enumerable.Range(0, 9_000), _ => Assert.True(limiter.AttemptAcquire(page).IsAcquired));
    }

    static DefaultHttpContext By(int person)
    {
        var http = new DefaultHttpContext
        {
            User = new ClaimsPrincipal(PersonClaims.Identity(new Actor(new PersonId(person), "script", Roles.Planner), "test")),
        };
        http.Request.Headers.Authorization = "Bearer something";
        return http;
    }

    public void Dispose() => limiter.Dispose();
}

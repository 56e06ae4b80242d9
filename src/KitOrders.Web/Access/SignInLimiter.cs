using System.Threading.RateLimiting;

namespace KitOrders.Web.Access;

/// <summary>
/// How often one may try to sign in: so many tries a minute for a name from one address, so that nobody guesses on, and
/// nobody else is kept out by it; and more for an address as a whole, since a workshop's tablets may share one.
/// </summary>
public sealed class SignInLimiter : IDisposable
{
    public const int PerNameAndAddress = 5;

    public const int PerAddress = 30;

    readonly PartitionedRateLimiter<(string Name, string Address)> byName = PartitionedRateLimiter.Create<(string Name, string Address), (string, string)>(
        who => RateLimitPartition.GetFixedWindowLimiter((who.Name.Trim().ToUpperInvariant(), who.Address), _ => A(PerNameAndAddress)));

    readonly PartitionedRateLimiter<string> byAddress = PartitionedRateLimiter.Create<string, string>(
        address => RateLimitPartition.GetFixedWindowLimiter(address, _ => A(PerAddress)));

    public bool MayTry(string name, string address)
    {
        using var all = byAddress.AttemptAcquire(address);
        using var one = byName.AttemptAcquire((name, address));
        return all.IsAcquired && one.IsAcquired;
    }

    static FixedWindowRateLimiterOptions A(int permits) => new() { PermitLimit = permits, Window = TimeSpan.FromMinutes(1), QueueLimit = 0 };

    public void Dispose()
    {
        byName.Dispose();
        byAddress.Dispose();
    }
}

namespace KitOrders.Operations;

/// <summary>A clock that stands at one moment, for operations that a file says happened then.</summary>
sealed class ClockAt(DateTimeOffset moment) : TimeProvider
{
    public override DateTimeOffset GetUtcNow() => moment;
}

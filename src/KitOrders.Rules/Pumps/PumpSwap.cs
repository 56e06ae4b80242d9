namespace KitOrders.Rules.Pumps;

/// <summary>A pump as far as its coming and going depends on it.</summary>
/// <param name="At">Tag of the position where it stands; null in the store.</param>
/// <param name="Since">Since when, where that is recorded.</param>
/// <param name="Orders">Its orders that have not ended, as "10001 (open)".</param>
public sealed record MovingPump(string Serial, string? At, DateOnly? Since, string? OutOfService, IReadOnlyList<string> Orders);

/// <summary>
/// A pump takes another one's place. What belongs to the position (area, zone, supply, cable, fluid, criticality) stays, what belongs
/// to the pump (model, fitted kits, strokes, history) goes with its serial number. An order is for one pump where it stands: its
/// kits were judged against that place, so neither pump moves while an order of it has not ended.
/// </summary>
public static class PumpSwap
{
    public const int ReasonMaxLength = 1_000;

    /// <param name="leaving">What stands at the position; null when it is empty.</param>
    /// <param name="goesTo">Tag of the position where the leaving pump goes; null for the store.</param>
    /// <param name="goesToHolds">Serial of the pump that stands there now.</param>
    /// <returns>Null when the pumps may change places on that day.</returns>
    public static Refusal? MaySwap(string tag, MovingPump? leaving, MovingPump coming, string? goesTo, string? goesToHolds, DateOnly on, DateOnly today, string? reason)
    {
        if (string.IsNullOrWhiteSpace(reason))
        {
            return Refusal.Field("reason", "reason-missing", "Say why the pumps change places.");
        }

        if (reason.Length > ReasonMaxLength)
        {
            return Refusal.Field("reason", "reason-too-long", $"A reason has at most {ReasonMaxLength} characters.");
        }

        if (coming.At == tag)
        {
            return Refusal.Conflict("pump-stands-there", $"Pump {coming.Serial} stands at {tag} already. Choose another pump.");
        }

        if (on > today)
        {
            return Refusal.Field("on", "swap-in-future", $"Record it on the day it is done, {on:yyyy-MM-dd} is still to come.");
        }

        if (new[] { leaving?.Since, coming.Since }.Max() is { } last && on < last)
        {
            return Refusal.Field("on", "swap-before-last", $"One of the pumps came to where it stands on {last:yyyy-MM-dd}. It cannot have left before.");
        }

        foreach (var pump in new[] { leaving, coming })
        {
            if (pump is { Orders.Count: > 0 })
            {
                return Refusal.Conflict("pump-has-orders", $"Pump {pump.Serial} has {string.Join(", ", pump.Orders)}. An order is for this pump where it stands: close or cancel it first, then move the pump.");
            }
        }

        if (coming.OutOfService is { } why)
        {
            return Refusal.Conflict("pump-out-of-service", $"Pump {coming.Serial} may not run: {why} Bring it back into service first, or choose another pump.");
        }

        return goesTo is not null && (goesTo == tag || (goesToHolds is not null && goesToHolds != coming.Serial))
            ? Refusal.Field("to", "position-taken", goesTo == tag ? $"{tag} is where it leaves from. Name another position, or none for the store." : $"Pump {goesToHolds} stands at {goesTo}. Take it from there first, or send the leaving pump to the store.")
            : null;
    }
}

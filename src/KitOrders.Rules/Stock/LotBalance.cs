using KitOrders.Rules.Parts;

namespace KitOrders.Rules.Stock;

/// <summary>What lies of one lot in one bin.</summary>
/// <param name="ExpiresOn">The last good day. Null: no expiry.</param>
public sealed record LotBalance(
    PartId Part,
    LotId Lot,
    string LotNumber,
    BinId Bin,
    int WalkOrder,
    DateOnly ReceivedOn,
    DateOnly? ExpiresOn,
    bool Quarantined,
    decimal OnHand,
    decimal Reserved)
{
    public decimal Free => OnHand - Reserved;

    public bool UsableOn(DateOnly fitOn) => ShelfLife.IsUsable(ExpiresOn, Quarantined, fitOn);

    /// <summary>
    /// First expiry, first out: earliest expiry, none last; oldest receipt; smallest free quantity; lot number (ordinal); bin
    /// in walking order.
    /// </summary>
    public static int FirstOut(LotBalance? one, LotBalance? other)
    {
        ArgumentNullException.ThrowIfNull(one);
        ArgumentNullException.ThrowIfNull(other);
        var byExpiry = (one.ExpiresOn ?? DateOnly.MaxValue).CompareTo(other.ExpiresOn ?? DateOnly.MaxValue);
        var byReceipt = byExpiry != 0 ? byExpiry : one.ReceivedOn.CompareTo(other.ReceivedOn);
        var byFree = byReceipt != 0 ? byReceipt : one.Free.CompareTo(other.Free);
        var byNumber = byFree != 0 ? byFree : string.CompareOrdinal(one.LotNumber, other.LotNumber);
        var byWalk = byNumber != 0 ? byNumber : one.WalkOrder.CompareTo(other.WalkOrder);
        return byWalk != 0 ? byWalk : one.Bin.Value.CompareTo(other.Bin.Value);
    }
}

namespace KitOrders.Rules.Parts;

/// <summary>The unit in which a part is kept, counted and handed out.</summary>
public enum Unit
{
    Each,
    Set,
    Pair,

    /// <summary>A roll handed out whole.</summary>
    Roll,
    M,
    Mm,
    G,
    Kg,
    Ml,
    L,
}

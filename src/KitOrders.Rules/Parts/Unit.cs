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

public static class Units
{
    /// <summary>Whether the unit is counted in whole pieces; the others are measured.</summary>
    public static bool IsCounted(this Unit unit) => unit is Unit.Each or Unit.Set or Unit.Pair or Unit.Roll;
}

namespace KitOrders.Rules.Stock;

/// <summary>Why stock moved. A correction is a new movement that names the one it corrects.</summary>
public enum MovementKind
{
    Receipt,
    Pick,
    Return,
    Transfer,
    CountDifference,
    Scrap,
}

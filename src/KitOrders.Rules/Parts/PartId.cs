namespace KitOrders.Rules.Parts;

public readonly record struct PartId(int Value);

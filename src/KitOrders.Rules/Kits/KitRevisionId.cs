namespace KitOrders.Rules.Kits;

public readonly record struct KitRevisionId(int Value);

namespace KitOrders.Rules.Stock;

public readonly record struct BinId(int Value);

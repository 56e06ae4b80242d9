namespace KitOrders.Rules.Stock;

public readonly record struct LotId(int Value);

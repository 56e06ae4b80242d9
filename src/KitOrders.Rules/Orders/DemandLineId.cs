namespace KitOrders.Rules.Orders;

public readonly record struct DemandLineId(int Value);

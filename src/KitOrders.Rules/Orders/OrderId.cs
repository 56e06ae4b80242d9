namespace KitOrders.Rules.Orders;

public readonly record struct OrderId(int Value);

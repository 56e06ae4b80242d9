namespace KitOrders.Rules.Stock;

public readonly record struct ReservationId(int Value);

namespace KitOrders.Rules.Orders;

public readonly record struct CampaignId(int Value);

namespace KitOrders.Web.Layout;

/// <summary>A sentence that stands above every page, such as "Demo plant". Register one to show it; an empty one is not shown.</summary>
public sealed record Banner(string Sentence);

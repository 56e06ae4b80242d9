namespace KitOrders.Web.Layout;

/// <summary>A sentence that stands above every page, such as "Demo plant". Register one to show it.</summary>
public sealed record Banner(string Sentence);

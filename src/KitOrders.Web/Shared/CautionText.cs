using KitOrders.Rules.Procedures;

namespace KitOrders.Web.Shared;

/// <summary>A caution as it is printed and shown.</summary>
public sealed record CautionText(SignalWord Word, string Hazard, string Consequence, string Avoid);

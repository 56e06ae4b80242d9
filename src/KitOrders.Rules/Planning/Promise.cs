using KitOrders.Rules.Parts;

namespace KitOrders.Rules.Planning;

/// <summary>What is still to come of a purchase line.</summary>
/// <param name="PromisedOn">Null: not recorded. Such a line says nothing of the day, so it makes no order ready.</param>
public sealed record IncomingFact(PartId Part, string Reference, DateOnly? PromisedOn, decimal Quantity);

/// <summary>What a demand line takes of an incoming purchase line.</summary>
/// <param name="On">The day it counts for.</param>
/// <param name="Late">The promise had passed without delivery, so that another day was put in its place.</param>
public sealed record Promise(string Reference, DateOnly On, bool Late, decimal Quantity);

/// <summary>How far promises are believed.</summary>
/// <param name="AsOf">Replaces today.</param>
/// <param name="LateDays">A promise before that day counts as this many calendar days after it; a plant setting.</param>
public readonly record struct PromiseRule(DateOnly AsOf, int LateDays)
{
    public bool IsLate(DateOnly promisedOn) => promisedOn < AsOf;

    public DateOnly CountsOn(DateOnly promisedOn) => IsLate(promisedOn) ? AsOf.AddDays(LateDays) : promisedOn;
}

using KitOrders.Rules.Parts;

namespace KitOrders.Rules.Kits;

/// <summary>Shop supply is metered: tape by the threads it wraps, everything else by the line's quantity.</summary>
public static class ShopSupply
{
    const decimal Pi = 3.14159265358979323846m;

    /// <summary>
    /// What one parent needs of the line, in the part's unit, unrounded: the line's quantity as it stands, or, with wraps given,
    /// wraps × π × outside diameter for each taper-thread fitting that it serves. Parallel threads are sealed by washer or O-ring.
    /// Refusals: <c>wraps-serve-nothing</c>, <c>wraps-need-length</c> (tape kept in no unit of length), <c>thread-not-recorded</c>.
    /// </summary>
    public static Outcome<decimal> PerParent(
        KitStructure kit, KitLineFact line, IReadOnlyDictionary<PartId, PartFact> parts)
    {
        ArgumentNullException.ThrowIfNull(kit);
        ArgumentNullException.ThrowIfNull(line);
        if (line.Wraps is not { } wraps)
        {
            return line.Quantity;
        }

        var where = $"{parts[kit.Kit].Number} line {line.Line}";
        var served = kit.Lines.Where(l => line.WrapsFor.Contains(l.Line)).ToList();
        if (served.Count == 0 || line.WrapsFor.Any(n => served.All(l => l.Line != n)))
        {
            return Refusal.Invalid("wraps-serve-nothing", $"{where} gives wraps but does not name lines of this kit that it serves. Name them.");
        }

        if (parts[line.Part] is { Unit: not (Unit.M or Unit.Mm) } tape)
        {
            return Refusal.Invalid("wraps-need-length", $"{where} gives wraps, but {tape.Number} is kept in {Word.Of(tape.Unit)}. Keep it in m or mm, or give a quantity.");
        }

        decimal millimetres = 0;
        foreach (var fitting in served)
        {
            if (parts[fitting.Part].Thread is not { } thread)
            {
                return Refusal.Invalid("thread-not-recorded", $"{where} wraps {parts[fitting.Part].Number}, whose thread is not recorded. Record the thread of the part.");
            }

            millimetres += thread.Taper ? fitting.Quantity * wraps * Pi * thread.OutsideMm : 0;
        }

        return parts[line.Part].Unit == Unit.M ? millimetres / 1000 : millimetres;
    }

    /// <summary>
    /// The order's whole need rounded up to the multiple in which the part is handed out. Without one, parts that are counted
    /// (each, set, pair, roll) are handed out whole and measured ones as they are.
    /// </summary>
    public static decimal RoundedUp(decimal quantity, PartFact part)
    {
        ArgumentNullException.ThrowIfNull(part);
        var multiple = part.HandedOutIn ?? (part.Unit is Unit.Each or Unit.Set or Unit.Pair or Unit.Roll ? 1 : 0);
        return multiple > 0 ? Math.Ceiling(quantity / multiple) * multiple : quantity;
    }
}

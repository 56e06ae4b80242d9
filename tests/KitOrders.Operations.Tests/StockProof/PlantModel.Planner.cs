namespace KitOrders.Operations.Tests.StockProof;

/// <summary>What a planner decides about an open order: an alternate for what is short, and the plan once more.</summary>
sealed partial class PlantModel
{
    /// <param name="source">Null: the order's lines of the part, those that nobody let go first, then in the order of the sources.</param>
    public string? UseAlternate(ModelOrder order, string part, string alternate, decimal quantity, string? source)
    {
        if (part == alternate)
            return "alternate-of-itself";
        if (order.State is not ("open" or "staged" or "underway"))
            return "order-state";
        if (!Kits.StandsIn(part, alternate))
            return "alternate-not-approved";
        if (WrongQuantity(part, quantity) is { } wrong)
            return wrong;
        var waiting = order.Lines.Where(l => l.Part == part && l.Short > 0 && (source is null || l.Source == source))
            .OrderBy(l => l.LetGo).ThenBy(l => Array.IndexOf(Kits.Sources, l.Source)).ToList();
        if (waiting.Sum(l => l.Short) < quantity)
            return "alternate-not-needed";
        foreach (var line in waiting)
        {
            var here = Math.Min(quantity, line.Short);
            if (here == 0)
                continue;
            quantity -= here;
            var by = order.Lines.Find(l => l.Part == alternate && l.Source == line.Source);
            if (by is null)
                order.Lines.Add(by = new ModelLine(order, alternate, line.Source, 0, 0));
            by.LetGo = false;
            var replacement = line.ReplacedBy.Find(r => r.By == by);
            if (replacement is null)
            {
                replacement = new ModelReplacement(line, by);
                line.ReplacedBy.Add(replacement);
                by.InPlaceOf.Add(replacement);
            }
            replacement.Quantity += here;
        }
        Cover([alternate]);
        return null;
    }

    public string? TakeBack(ModelOrder order, string part, string alternate)
    {
        if (part == alternate)
            return "alternate-of-itself";
        if (order.State is not ("open" or "staged" or "underway"))
            return "order-state";
        var rows = order.Lines.Where(l => l.Part == part).SelectMany(l => l.ReplacedBy).Where(r => r.By.Part == alternate).ToList();
        if (rows.Count == 0)
            return "alternate-not-used";
        foreach (var row in rows)
        {
            if (row.By.Gross - row.By.Built - row.By.Picked < row.Quantity)
                return row.By.Picked > 0 ? "alternate-picked" : "alternate-replaced";
        }
        foreach (var row in rows)
        {
            GiveUp(row.By, row.Quantity - Math.Min(row.By.Short, row.Quantity));
            row.Line.ReplacedBy.Remove(row);
            row.By.InPlaceOf.Remove(row);
            row.Line.LetGo = false;
            if (row.By is { Gross: 0, InPlaceOf.Count: 0, ReplacedBy.Count: 0 })
                order.Lines.Remove(row.By);
        }
        Cover([part, alternate]);
        return null;
    }

    /// <summary>The lot that would leave the shelf last is given up first.</summary>
    void GiveUp(ModelLine line, decimal quantity)
    {
        var lastOut = line.Holds.Where(h => h.Held > 0)
            .OrderByDescending(h => h.Lot.Expires).ThenByDescending(h => h.Lot.Received).ThenByDescending(h => On(h.Lot, h.Bin) - Reserved(h.Lot, h.Bin))
            .ThenByDescending(h => new Ordinal(h.Lot.Number)).ThenByDescending(h => Walk(h.Bin)).ToList();
        foreach (var hold in lastOut)
        {
            var here = Math.Min(quantity, hold.Held);
            hold.Held -= here;
            quantity -= here;
        }
    }

    /// <summary>Rule 4: demand stays as it was exploded until a planner plans the order again; then from what is free now, its own holds included.</summary>
    public string? Replan(ModelOrder order)
    {
        if (order.State != "open")
            return "order-state";
        if (order.Lines.Exists(l => l.Picked > 0))
            return "replan-picked";
        var parts = order.Lines.Select(l => l.Part).ToHashSet();
        order.Lines.Clear();
        order.Lines.AddRange(Explode(order));
        foreach (var line in order.Lines.OrderBy(l => Array.IndexOf(Kits.Sources, l.Source)))
            Serve(line);
        parts.UnionWith(order.Lines.Select(l => l.Part));
        Cover(parts);
        return null;
    }
}

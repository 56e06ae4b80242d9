namespace KitOrders.Operations.Tests.StockProof;

/// <summary>What people do with orders. Each answers null when done, else the code of the refusal, and then nothing has changed.</summary>
sealed partial class PlantModel
{
    public string? Create(ModelOrder order)
    {
        if (order.WorkClass is < 1 or > 10)
            return "order-values";
        if (Orders.Exists(o => o.Number == order.Number))
            return "order-number-taken";
        Orders.Add(order);
        return null;
    }

    public string? Open(ModelOrder order)
    {
        if (order.State != "draft")
            return "order-state";
        order.State = "open";
        order.Opened = Now;
        order.Lines.AddRange(Explode(order));
        foreach (var line in order.Lines.OrderBy(l => Array.IndexOf(Kits.Sources, l.Source)))
            Serve(line);
        return null;
    }

    /// <param name="lines">Hold, how much is picked of it, whether a reason is given, what was counted afterwards.</param>
    public string? Pick(ModelOrder order, IReadOnlyList<(ModelHold Hold, decimal Quantity, bool Reason, decimal? OnShelf)> lines)
    {
        if (lines.Count == 0)
            return "pick-empty";
        if (order.State is not ("open" or "staged" or "underway"))
            return "order-state";
        foreach (var (hold, quantity, reason, _) in lines)
        {
            if (!order.Holds.Any(h => h.Hold == hold))
                return "reservation-unknown";
            if (quantity < 0 || quantity != decimal.Round(quantity, Kits.Counted(hold.Lot.Part) ? 0 : 4))
                return "quantity";
            if (quantity > hold.Held)
                return "pick-too-many";
            if (quantity < hold.Held && !reason)
                return "short-pick-reason";
        }
        var shortPicks = lines.Where(l => l.Quantity < l.Hold.Held).ToList();
        foreach (var counted in shortPicks.Where(l => l.OnShelf is not null))
        {
            var others = Reserved(counted.Hold.Lot, counted.Hold.Bin)
                - lines.Where(l => l.Hold.Lot == counted.Hold.Lot && l.Hold.Bin == counted.Hold.Bin).Sum(l => l.Hold.Held);
            if (counted.OnShelf < others)
                return "count-below-reserved";
        }
        foreach (var (hold, quantity, _, _) in lines)
        {
            var missing = hold.Held - quantity;
            hold.Held = 0;
            hold.Picked += quantity;
            Move("pick", hold.Lot, hold.Bin, -quantity, order);
            Move("countDifference", hold.Lot, hold.Bin, -missing, order);
        }
        foreach (var (hold, _, _, onShelf) in shortPicks.Where(l => l.OnShelf is not null))
            Move("countDifference", hold.Lot, hold.Bin, onShelf!.Value - On(hold.Lot, hold.Bin), order);
        Cover(shortPicks.Select(l => l.Hold.Lot.Part).Distinct().ToList());
        return null;
    }

    public static string? Stage(ModelOrder order, bool letGo)
    {
        if (order.State != "open")
            return "order-state";
        if (order.Lines.Exists(l => l.Held > 0))
            return "lines-not-picked";
        var lacking = order.Lines.Where(l => l.Short > 0 && !l.LetGo).ToList();
        if (lacking.Count > 0 && !letGo)
            return "lines-short";
        lacking.ForEach(l => l.LetGo = true);
        order.State = "staged";
        return null;
    }

    public static string? Unstage(ModelOrder order)
    {
        if (order.State != "staged")
            return "order-state";
        order.State = "open";
        return null;
    }

    /// <summary>The kit is handed over; what is past its last good day today is not.</summary>
    public string? Start(ModelOrder order)
    {
        if (order.State != "staged")
            return "order-state";
        if (order.Holds.Any(h => (h.Hold.Held > 0 || h.Hold.InHand > 0) && (h.Hold.Lot.Aside || h.Hold.Lot.Expires < Today)))
            return "suitability-failed";
        order.State = "underway";
        return null;
    }

    public static string? Finish(ModelOrder order)
    {
        if (order.State != "underway")
            return "order-state";
        order.State = "finished";
        order.WorkDone = true;
        return null;
    }

    public static string? Reopen(ModelOrder order)
    {
        if (order.State != "finished")
            return "order-state";
        order.State = "underway";
        return null;
    }

    /// <param name="accounts">What became of what is in hand: fitted, returned, scrapped. Null: all of it was fitted.</param>
    public string? Close(ModelOrder order, IReadOnlyDictionary<ModelHold, (decimal Fitted, decimal Returned, decimal Scrapped)>? accounts)
    {
        if (order.State != "finished")
            return "order-state";
        var inHand = order.Holds.Select(h => h.Hold).Where(h => h.InHand > 0).ToList();
        accounts ??= inHand.ToDictionary(h => h, h => (h.InHand, 0m, 0m));
        if (inHand.Exists(h => !accounts.TryGetValue(h, out var a) || a.Fitted + a.Returned + a.Scrapped != h.InHand))
            return "parts-unaccounted";
        var parts = new HashSet<string>();
        foreach (var hold in inHand)
        {
            var (fitted, returned, scrapped) = accounts[hold];
            (hold.Fitted, hold.Returned, hold.Scrapped) = (hold.Fitted + fitted, hold.Returned + returned, hold.Scrapped + scrapped);
            Move("return", hold.Lot, hold.Bin, returned, order);
            if (returned > 0)
                parts.Add(hold.Lot.Part);
        }
        order.State = "closed";
        parts.UnionWith(LetGoOfHolds(order, _ => true));
        Cover(parts);
        return null;
    }

    public string? Cancel(ModelOrder order, bool saysWhatThePumpIs)
    {
        if (order.State is "finished" or "closed" or "cancelled")
            return "order-state";
        if (order.State == "underway" && !saysWhatThePumpIs)
            return "pump-is-missing";
        order.State = "cancelled";
        Cover(LetGoOfHolds(order, _ => true));
        return null;
    }

    public string? Change(ModelOrder order, DateOnly? neededBy, DateOnly? planned, bool clear, int? workClass)
    {
        if (workClass is < 1 or > 10)
            return "order-values";
        if (order.State is not ("draft" or "open" or "staged"))
            return "order-state";
        order.NeededBy = neededBy ?? order.NeededBy;
        order.Planned = clear ? null : planned ?? order.Planned;
        order.WorkClass = workClass ?? order.WorkClass;
        LetGoOfHolds(order, h => h.Lot.Expires < order.Fit);
        Cover(order.Lines.Select(l => l.Part).Distinct().ToList());
        return null;
    }

    static HashSet<string> LetGoOfHolds(ModelOrder order, Func<ModelHold, bool> which)
    {
        var freed = new HashSet<string>();
        foreach (var (_, hold) in order.Holds.Where(h => h.Hold.Held > 0 && which(h.Hold)))
        {
            hold.Held = 0;
            freed.Add(hold.Lot.Part);
        }
        return freed;
    }

    public string? TakeOver(ModelOrder order, ModelOrder from, string part, decimal quantity)
    {
        if (order == from)
            return "same-order";
        if (WrongQuantity(part, quantity) is { } wrong)
            return wrong;
        if (order.State is not ("open" or "staged" or "underway"))
            return "order-state";
        var waiting = order.Lines.Where(l => l.Part == part && l.Short > 0)
            .OrderBy(l => l.LetGo).ThenBy(l => Array.IndexOf(Kits.Sources, l.Source)).ToList();
        if (waiting.Sum(l => l.Short) < quantity)
            return "take-over-not-needed";
        var holds = from.Holds.Select(h => h.Hold)
            .Where(h => h.Lot.Part == part && h.Held > 0 && !h.Lot.Aside && h.Lot.Expires >= order.Fit)
            .OrderBy(h => h.Lot.Expires).ThenBy(h => h.Id).ToList();
        if (holds.Sum(h => h.Held) < quantity)
            return "take-over-not-held";
        foreach (var hold in holds)
        {
            var given = Math.Min(hold.Held, quantity);
            quantity -= given;
            hold.Held -= given;
            foreach (var line in waiting)
            {
                var got = Math.Min(given, line.Short);
                if (got > 0)
                    HoldFor(line, hold.Lot, hold.Bin).Held += got;
                given -= got;
            }
        }
        Cover([part]);
        return null;
    }
}

using System.Globalization;

namespace KitOrders.Operations.Tests.StockProof;

/// <summary>What people do on the shelves.</summary>
sealed partial class PlantModel
{
    static string? WrongQuantity(string part, decimal quantity, bool zero = false) =>
        quantity < 0 || (quantity == 0 && !zero) ? "quantity-not-positive"
        : quantity > 99_999_999 ? "quantity-too-large"
        : Kits.Counted(part) && quantity != decimal.Truncate(quantity) ? "quantity-not-whole"
        : quantity != decimal.Round(quantity, 4) ? "quantity-too-fine" : null;

    public ModelLot? Lot(string part, string number) => Lots.Find(l => l.Part == part && l.Number == number);

    /// <summary>The number that the next lot without one gets.</summary>
    public string NextLotNumber(string part)
    {
        var n = 1;
        while (Lot(part, string.Create(CultureInfo.InvariantCulture, $"{Today:yyMMdd}-{n}")) is not null)
            n++;
        return string.Create(CultureInfo.InvariantCulture, $"{Today:yyMMdd}-{n}");
    }

    /// <summary>NBR, ISO 2230:2002 group B as printed at epidor.com: 7 years, 10 with the extension; all that ages here is of it.</summary>
    static DateOnly GoodUntil(string part, DateOnly? cured, bool extended = false) =>
        cured is { } day && Kits.Ages(part) ? day.AddYears(extended ? 10 : 7) : DateOnly.MaxValue;

    public string? Receive(string part, decimal quantity, string bin, string? number, DateOnly? cured)
    {
        if (WrongQuantity(part, quantity) is { } wrong)
            return wrong;
        if (cured > Today)
            return "cure-date-ahead";
        number ??= NextLotNumber(part);
        var lot = Lot(part, number);
        if (lot is not null && cured is not null && cured != lot.Cured)
            return "lot-cure-date-differs";
        if (lot is null)
            Lots.Add(lot = new ModelLot(part, number)
            {
                Received = Today, Cured = cured, Expires = GoodUntil(part, cured), Aside = Kits.Ages(part) && cured is null,
            });
        Move("receipt", lot, bin, quantity);
        Cover([part]);
        return null;
    }

    public string? Count(ModelLot? lot, string bin, decimal counted, bool accept)
    {
        if (lot is null)
            return "lot-unknown";
        if (WrongQuantity(lot.Part, counted, zero: true) is { } wrong)
            return wrong;
        var missing = Reserved(lot, bin) - counted;
        if (missing > 0 && !accept)
            return "count-below-reserved";
        var difference = counted - On(lot, bin);
        // The least pressing order loses first, and within an order what stock goes to last.
        foreach (var (_, hold) in Holds.Where(h => h.Hold.Lot == lot && h.Hold.Bin == bin && h.Hold.Held > 0)
            .OrderByDescending(h => h.Line.Order.Rank).ThenByDescending(h => Array.IndexOf(Kits.Sources, h.Line.Source)).ToList())
        {
            var lost = Math.Clamp(missing, 0, hold.Held);
            hold.Held -= lost;
            missing -= lost;
        }
        Move("countDifference", lot, bin, difference);
        if (difference != 0)
            Cover([lot.Part]);
        return null;
    }

    string? NotFree(ModelLot lot, string bin, decimal quantity) =>
        quantity > On(lot, bin) ? "not-enough-stock" : quantity > On(lot, bin) - Reserved(lot, bin) ? "stock-reserved" : null;

    public string? Scrap(ModelLot? lot, string bin, decimal quantity)
    {
        if (lot is null)
            return "lot-unknown";
        if ((WrongQuantity(lot.Part, quantity) ?? NotFree(lot, bin, quantity)) is { } no)
            return no;
        Move("scrap", lot, bin, -quantity);
        return null;
    }

    public string? Transfer(ModelLot? lot, string from, string to, decimal quantity)
    {
        if (lot is null)
            return "lot-unknown";
        if (from == to)
            return "same-bin";
        if ((WrongQuantity(lot.Part, quantity) ?? NotFree(lot, from, quantity)) is { } no)
            return no;
        Move("transfer", lot, from, -quantity);
        Move("transfer", lot, to, quantity);
        return null;
    }

    public string? Correct(ModelMovement wrong)
    {
        if (wrong.Kind is "pick" or "return" or "transfer" || wrong.Order is not null)
            return "movement-has-opposite";
        if (Movements.Exists(m => m.Corrects == wrong))
            return "movement-corrected";
        if (wrong.Corrects is not null)
            return "movement-is-correction";
        if (wrong.Quantity > 0 && NotFree(wrong.Lot, wrong.Bin, wrong.Quantity) is { } no)
            return no;
        Move(wrong.Kind, wrong.Lot, wrong.Bin, -wrong.Quantity, null, wrong);
        if (wrong.Quantity < 0)
            Cover([wrong.Lot.Part]);
        return null;
    }

    void GiveUp(ModelLot lot)
    {
        foreach (var (_, hold) in Holds.Where(h => h.Hold.Lot == lot))
            hold.Held = 0;
    }

    public string? PutAside(ModelLot? lot)
    {
        if (lot is null)
            return "lot-unknown";
        if (lot.Aside)
            return "lot-quarantined";
        lot.Aside = true;
        GiveUp(lot);
        Cover([lot.Part]);
        return null;
    }

    public string? LetUseAgain(ModelLot? lot, DateOnly? cured)
    {
        if (cured > Today)
            return "cure-date-ahead";
        if (lot is null)
            return "lot-unknown";
        if (!lot.Aside)
            return "lot-not-quarantined";
        if (cured is not null && lot.Cured is not null && cured != lot.Cured)
            return "lot-cure-date-differs";
        if (Kits.Ages(lot.Part) && lot.Cured is null)
        {
            if (cured is null)
                return "cure-date-missing";
            lot.Cured = cured;
            lot.Expires = GoodUntil(lot.Part, cured);
        }
        lot.Aside = false;
        Cover([lot.Part]);
        return null;
    }

    public string? Inspect(ModelLot? lot, bool passed)
    {
        if (lot is null)
            return "lot-unknown";
        if (lot.Cured is null || !Kits.Ages(lot.Part))
            return "lot-does-not-age";
        if (lot.Inspected)
            return "lot-inspected-before";
        var extended = GoodUntil(lot.Part, lot.Cured, extended: true);
        if (passed && extended < Today)
            return "lot-too-old";
        if (passed)
            (lot.Inspected, lot.Expires) = (true, extended);
        else
        {
            lot.Aside = true;
            GiveUp(lot);
        }
        Cover([lot.Part]);
        return null;
    }

    /// <param name="isSealed">What is said of a box: sealed, opened, nothing.</param>
    public string? Return(ModelOrder order, ModelHold hold, decimal quantity, string? bin, bool? isSealed)
    {
        var part = hold.Lot.Part;
        if (WrongQuantity(part, quantity) is { } wrong)
            return wrong;
        var inside = Kits.Lines(part).Where(l => l.Source == "inTheBox").ToList();
        if (inside.Count > 0 && isSealed is null)
            return "sealed-or-opened";
        if (!order.Holds.Any(h => h.Hold == hold))
            return "reservation-unknown";
        if (order.State == "staged")
            return "order-state";
        if (quantity > hold.InHand)
            return "return-too-many";
        if (order.State == "open")
            hold.Picked -= quantity;
        else
            hold.Returned += quantity;
        var to = bin ?? hold.Bin;
        if (inside.Count == 0 || isSealed == true)
        {
            Move("return", hold.Lot, to, quantity, order);
            Cover([part]);
            return null;
        }
        foreach (var (child, each, _) in inside)
            Move("return", OutOfBox(hold.Lot, child), to, each * quantity, order);
        Cover(inside.ConvertAll(l => l.Part));
        return null;
    }

    /// <summary>The box is one batch: what was in it keeps the number and the cure date of the box.</summary>
    ModelLot OutOfBox(ModelLot box, string child)
    {
        var number = box.Number;
        var lot = Lot(child, number);
        if (lot is not null && lot.Cured != box.Cured)
        {
            number = $"{Prefix}-{box.Part}-{box.Number}";
            lot = Lot(child, number);
        }
        if (lot is null)
            Lots.Add(lot = new ModelLot(child, number)
            {
                Received = box.Received, Cured = box.Cured, Inspected = box.Inspected,
                Expires = GoodUntil(child, box.Cured, box.Inspected),
                Aside = box.Aside || (Kits.Ages(child) && box.Cured is null),
            });
        return lot;
    }

    public required string Prefix { get; init; }
}

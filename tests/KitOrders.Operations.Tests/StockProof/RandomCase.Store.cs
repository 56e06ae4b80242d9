using KitOrders.Operations.Stock;

namespace KitOrders.Operations.Tests.StockProof;

/// <summary>How a drawn step becomes a command on the shelves.</summary>
sealed partial class RandomCase
{
    static decimal Quantity(string part, int by, int odd) => (odd % 29) switch
    {
        0 => 0,
        1 => Kits.Counted(part) ? 1.5m : 0.00001m,
        2 => 100_000_000,
        _ => Kits.Counted(part) ? 1 + (by / 3 % 6) : new[] { 0.35m, 0.6m, 1.05m, 2, 0.0001m }[by / 3 % 5],
    };

    DateOnly? CuredOn(int by) => (by % 12) switch
    {
        0 or 1 => null,
        2 => model.Today.AddYears(-7).AddDays(-3),
        3 or 4 => model.Today.AddYears(-7).AddDays(5),
        5 or 6 => model.Today.AddYears(-7).AddDays(15),
        7 => model.Today.AddYears(-7).AddDays(30),
        8 => model.Today.AddYears(-11),
        9 when by % 5 == 0 => model.Today.AddDays(1),
        _ => new DateOnly(2025, 4, 30),
    };

    (string, string?, Runs) Receive(Step s)
    {
        // Seals, plugs and hose more often than boxes, and those more often than whole kits.
        var part = "AAASSSMMXXVVJK"[s.A % 14].ToString();
        var quantity = Quantity(part, s.B, s.D);
        var bin = ProofPlant.Bins[s.B % 3];
        var number = (s.C % 6) switch { 0 => null, 1 => "L2", 2 => "L10", 3 => "a1", _ => "L1" };
        var cured = CuredOn(s.D);
        var expected = model.Receive(part, quantity, bin, number, cured);
        return ("receive", expected, call => Said(new ReceiveLot(Desk).Run(call, new Receipt(Part(part), quantity, bin) { Lot = number, CuredOn = Iso(cured) }, Ct)));
    }

    /// <summary>A lot and where it lies, mostly where there is something; now and then a number that no lot has.</summary>
    (string Part, string Number, ModelLot? Lot, string Bin) Place(Step s)
    {
        var places = model.OnHand.Where(o => o.Value > 0).Select(o => (o.Key.Lot, o.Key.Bin)).ToList();
        var (lot, bin) = Choose(places, [.. model.Lots.Select(l => (l, ProofPlant.Bins[s.B % 3]))], s.A);
        return s.D % 31 == 0 ? (lot.Part, "none", null, bin) : (lot.Part, lot.Number, lot, bin);
    }

    (string, string?, Runs) Count(Step s)
    {
        var (part, number, lot, bin) = Place(s);
        var shared = model.Holds.Where(h => h.Hold.Held > 0).GroupBy(h => (h.Hold.Lot, h.Hold.Bin)).Where(h => h.Count() > 1).Select(h => h.Key).ToList();
        if (shared.Count > 0 && s.D % 3 != 0)
        {
            (lot, bin) = shared[s.A % shared.Count];
            (part, number) = (lot.Part, lot.Number);
        }
        var book = lot is null ? 0 : model.On(lot, bin);
        var counted = (s.B % 9) switch
        {
            0 => 0,
            > 4 when shared.Count > 0 && lot is not null && Kits.Counted(part) => Math.Max(0, model.Reserved(lot, bin) - 1 - (s.C % 2)),
            1 => book,
            2 => book + (Kits.Counted(part) ? 2 : 0.35m),
            3 => Math.Max(0, book - 1),
            _ => s.D % 11 == 0 ? -1 : s.C % 4,
        };
        var accept = s.C % 3 != 0;
        return ("count", model.Count(lot, bin, counted, accept),
            call => Said(new CountBin(Desk).Run(call, new Count(Part(part), bin, number, counted) { Accept = accept, Reason = "count of the year" }, Ct)));
    }

    (string, string?, Runs) Scrap(Step s)
    {
        var (part, number, lot, bin) = Place(s);
        var quantity = Quantity(part, s.B, s.C);
        return ("scrap", model.Scrap(lot, bin, quantity), call => Said(new ScrapStock(Desk).Run(call, new Scrap(Part(part), bin, number, quantity, "rust"), Ct)));
    }

    (string, string?, Runs) Transfer(Step s)
    {
        var (part, number, lot, from) = Place(s);
        var free = lot is null ? 0 : model.On(lot, from) - model.Reserved(lot, from);
        var quantity = free > 0 && s.B % 3 != 0 ? free : Quantity(part, s.B, s.D);
        var to = ProofPlant.Bins[s.C % 3];
        return ("transfer", model.Transfer(lot, from, to, quantity),
            call => Said(new TransferStock(Desk).Run(call, new Transfer(Part(part), number, from, to, quantity), Ct)));
    }

    (string, string?, Runs) PutAside(Step s)
    {
        var (part, number, lot, _) = Place(s);
        return ("quarantine", model.PutAside(lot), call => Said(new QuarantineLot(Desk).Run(call, Part(part), number, "bag torn", Ct)));
    }

    (string, string?, Runs) LetUseAgain(Step s)
    {
        var lot = Choose([.. model.Lots.Where(l => l.Aside)], model.Lots, s.A);
        var cured = s.B % 3 == 0 ? null : lot.Cured ?? CuredOn(s.C);
        return ("release", model.LetUseAgain(lot, cured),
            call => Said(new ReleaseQuarantine(Desk).Run(call, Part(lot.Part), lot.Number, "looked at", Iso(cured), Ct)));
    }

    (string, string?, Runs) Inspect(Step s)
    {
        var lot = Choose([.. model.Lots.Where(l => Kits.Ages(l.Part) && l.Cured is not null && !l.Inspected)], model.Lots, s.A);
        var passed = s.B % 3 != 0;
        return ("inspect", model.Inspect(lot, passed), call => Said(new InspectLot(Desk).Run(call, Part(lot.Part), lot.Number, passed, "bent and looked at", Ct)));
    }

    (string, string?, Runs) Correct(Step s)
    {
        if (model.Movements.Count == 0)
            return Receive(s);
        var wrong = Choose([.. model.Movements.Where(m => m.Kind is "receipt" or "scrap" or "countDifference" && m.Order is null)], model.Movements, s.A);
        var id = wrong.Id;
        return ("correct", model.Correct(wrong), call => Said(new CorrectMovement(Desk).Run(call, id, "wrong bin", Ct)));
    }
}

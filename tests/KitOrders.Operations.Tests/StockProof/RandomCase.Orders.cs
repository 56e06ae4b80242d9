using KitOrders.Operations.Orders;
using KitOrders.Operations.Stock;
using KitOrders.Rules.Orders;

namespace KitOrders.Operations.Tests.StockProof;

/// <summary>How a drawn step becomes a command on an order.</summary>
sealed partial class RandomCase
{
    (string, string?, Runs) Create(Step s)
    {
        var taken = s.D % 17 == 0 && model.Orders.Count > 0;
        var serial = taken ? 1 : model.Orders.Count + 1;
        var kits = (s.C % 4) switch
        {
            0 => new Dictionary<string, decimal> { ["J"] = 1 },
            1 => new Dictionary<string, decimal> { ["J"] = 2 },
            2 => new Dictionary<string, decimal> { ["K"] = 1 },
            _ => new Dictionary<string, decimal> { ["J"] = 1, ["K"] = 2 },
        };
        var position = s.A % ProofPlant.Criticalities.Length;
        var order = new ModelOrder($"{model.Prefix}-{serial}", serial, ProofPlant.Criticalities[position], kits)
        {
            WorkClass = s.D % 19 == 0 ? 11 : 1 + (s.B % 4), NeededBy = model.Today.AddDays(Ahead(s.B)), Planned = s.C % 3 == 0 ? model.Today.AddDays(Ahead(s.C)) : null,
        };
        var wanted = new NewOrder(ProofPlant.Tag(model.Prefix, position), "JOB", order.NeededBy, order.WorkClass)
        {
            PlannedFitOn = order.Planned, Number = order.Number, Kits = [.. kits.Select(k => new KitAsk(Part(k.Key), k.Value))],
        };
        return ("create", model.Create(order), call => Said(new CreateOrder(Desk).Run(call, wanted, Ct)));
    }

    static int Ahead(int by) => (by / 4 % 4) switch { 0 => 2, 1 => 10, 2 => 20, _ => 35 };

    (string, string?, Runs) Open(Step s) =>
        OnOrder(s, "open", ["draft"], model.Open, (call, o) => new OpenOrder(Desk).Run(call, o.Number, Ct));

    (string, string?, Runs) Unstage(Step s) =>
        OnOrder(s, "unstage", ["staged"], PlantModel.Unstage, (call, o) => new UnstageOrder(Desk).Run(call, o.Number, "not yet", Ct));

    (string, string?, Runs) Start(Step s) =>
        OnOrder(s, "start", ["staged"], model.Start, (call, o) => new StartOrder(Desk).Run(call, o.Number, null, Ct));

    (string, string?, Runs) Finish(Step s) => OnOrder(s, "finish", ["underway"], PlantModel.Finish, WorkAndFinish);

    (string, string?, Runs) Reopen(Step s) =>
        OnOrder(s, "reopen", ["finished"], PlantModel.Reopen, (call, o) => new ReopenOrder(Desk).Run(call, o.Number, "a leak", Ct));

    (string, string?, Runs) Pick(Step s)
    {
        var order = focus ?? Choose([.. model.Orders.Where(o => o.State is "open" or "staged" or "underway" && o.Lines.Exists(l => l.Held > 0))], model.Orders, s.A);
        var holds = order.Holds.Select(h => h.Hold).Where(h => h.Held > 0).OrderBy(h => h.Id).ToList();
        if (s.D % 13 == 0)
            holds = [.. model.Holds.Where(h => h.Line.Order != order && h.Hold.Id > 0).Select(h => h.Hold).Take(1)];
        else if (s.D % 3 != 0 && holds.Count > 1)
            holds = [.. holds.Where((_, n) => ((s.B >> n) & 1) == 1)];
        var lines = holds.Select((hold, n) => Line(s, hold, n)).ToList();
        var inputs = lines.ConvertAll(l => new PickInput(l.Hold.Id, l.Quantity, l.Reason ? "not there" : null, l.OnShelf));
        return ("pick", model.Pick(order, lines), call => Said(new PickLines(Desk).Run(call, order.Number, inputs, Ct)));
    }

    static (ModelHold Hold, decimal Quantity, bool Reason, decimal? OnShelf) Line(Step s, ModelHold hold, int n)
    {
        var counted = Kits.Counted(hold.Lot.Part);
        return ((s.C + n) % 11) switch
        {
            0 => (hold, 0, true, null),
            1 => (hold, counted ? decimal.Floor(hold.Held / 2) : hold.Held / 2, true, null),
            2 => (hold, 0, true, s.B % 3),
            3 when s.D % 5 == 0 => (hold, hold.Held + 1, true, null),
            4 when s.D % 5 == 0 => (hold, 0, false, null),
            5 when s.D % 5 == 0 && counted => (hold, hold.Held - 0.5m, true, null),
            _ => (hold, hold.Held, false, null),
        };
    }

    (string, string?, Runs) Stage(Step s)
    {
        var order = focus ?? Choose([.. model.Orders.Where(o => o.State == "open" && o.Lines.TrueForAll(l => l.Held == 0))], model.Orders, s.A);
        var letGo = s.B % 3 != 0;
        var releases = letGo && order.State == "open"
            ? order.Lines.Where(l => l.Short > 0 && !l.LetGo).Select(l => l.Part).Distinct().Select(p => new LineRelease(Part(p), "not needed")).ToList() : [];
        return ("stage", PlantModel.Stage(order, letGo), call => Said(new StageOrder(Desk).Run(call, order.Number, "S-1", releases, Ct)));
    }

    (string, string?, Runs) Close(Step s)
    {
        var order = focus ?? Order(s.A, "finished");
        var accounts = s.B % 3 == 0 ? null : order.Holds.Select(h => h.Hold).Where(h => h.InHand > 0).ToDictionary(h => h, h => Account(s, h));
        List<PartAccount>? inputs = accounts is null ? null : [.. accounts.Select(a => new PartAccount(a.Key.Id, a.Value.Fitted, a.Value.Returned, a.Value.Scrapped))];
        return ("close", model.Close(order, accounts), call => Said(new CloseOrder(Desk).Run(call, order.Number, inputs, null, Ct)));
    }

    static (decimal Fitted, decimal Returned, decimal Scrapped) Account(Step s, ModelHold hold)
    {
        var first = decimal.Floor(hold.InHand / 2);
        return ((s.C + hold.Id) % 5) switch
        {
            0 => (0, hold.InHand, 0),
            1 => (first, hold.InHand - first, 0),
            2 => (0, first, hold.InHand - first),
            3 when s.D % 7 == 0 => (hold.InHand, 1, 0),
            _ => (hold.InHand, 0, 0),
        };
    }

    (string, string?, Runs) Cancel(Step s)
    {
        var says = s.B % 4 != 0;
        return OnOrder(s, "cancel", ["draft", "open", "staged", "underway"], o => model.Cancel(o, says),
            (call, o) => new CancelOrder(Desk).Run(call, o.Number, "not needed", says ? PumpAfterCancel.Unchanged : null, Ct));
    }

    (string, string?, Runs) Change(Step s)
    {
        DateOnly? neededBy = s.B % 3 == 0 ? model.Today.AddDays(Ahead(s.C)) : null;
        DateOnly? planned = s.B % 3 == 1 ? model.Today.AddDays(Ahead(s.C)) : null;
        int? workClass = s.D % 19 == 0 ? 0 : s.D % 4 == 0 ? 1 + (s.C % 5) : null;
        var clear = s.B % 7 == 2;
        return OnOrder(s, "change", ["open", "staged", "draft"], o => model.Change(o, neededBy, planned, clear, workClass),
            (call, o) => new ChangeOrder(Desk).Run(call, o.Number, new OrderChange(neededBy, planned, clear, workClass), Ct));
    }

    (string, string?, Runs) TakeOver(Step s)
    {
        var wanting = from o in model.Orders
                      where o.State is "open" or "staged" or "underway"
                      from l in o.Lines
                      where l.Short > 0
                      from other in model.Orders
                      where other != o && other.Lines.Exists(h => h.Part == l.Part && h.Held > 0)
                      select (l, other);
        var pairs = wanting.ToList();
        (ModelLine? line, ModelOrder? holder) = pairs.Count == 0 ? default : pairs[s.A % pairs.Count];
        var order = line?.Order ?? Order(s.A);
        var part = line?.Part ?? "A";
        var from = holder is null || s.B % 9 == 0 ? Order(s.B) : holder;
        var both = Math.Min(line?.Short ?? 0, from.Lines.Where(l => l.Part == part).Sum(l => l.Held));
        var quantity = both > 0 && s.D % 4 != 0 ? both : Quantity(part, s.C, s.D);
        return ("take over", model.TakeOver(order, from, part, quantity),
            call => Said(new TakeOver(Desk).Run(call, order.Number, new TakeOverAsk(from.Number, Part(part), quantity, "it stands still"), Ct)));
    }

    (string, string?, Runs) Return(Step s)
    {
        var inHand = model.Holds.Where(h => h.Hold.InHand > 0).ToList();
        var any = model.Holds.Where(h => h.Hold.Id > 0).ToList();
        if (any.Count == 0)
            return Create(s);
        var (line, hold) = Choose(inHand, any, s.A);
        var order = s.D % 23 == 0 ? model.Orders[0] : line.Order;
        var quantity = s.C % 3 == 0 ? Quantity(line.Part, s.C, s.D) : Math.Max(hold.InHand, Kits.Counted(line.Part) ? 1 : 0.1m);
        var bin = s.B % 3 == 0 ? ProofPlant.Bins[s.C % 3] : null;
        bool? isSealed = s.D % 7 == 0 ? null : s.B % 2 == 0;
        return ("return", model.Return(order, hold, quantity, bin, isSealed),
            call => Said(new ReturnStock(Desk).Run(call, new Return(order.Number, hold.Id, quantity) { Bin = bin, Sealed = isSealed }, Ct)));
    }
}

using KitOrders.Operations.Orders;
using KitOrders.Rules;
using KitOrders.Rules.Kits;

namespace KitOrders.Operations.Tests.StockProof;

/// <summary>How a drawn step becomes a decision of a planner.</summary>
sealed partial class RandomCase
{
    (string, string?, Runs) UseAlternate(Step s)
    {
        var pairs = (from o in model.Orders
                     where o.State is "open" or "staged" or "underway"
                     from l in o.Lines
                     where l.Short > 0
                     from a in Kits.Parts
                     where Kits.StandsIn(l.Part, a)
                     select (Line: l, Alternate: a)).ToList();
        var (line, alternate) = pairs.Count == 0 ? default : pairs[s.A % pairs.Count];
        var order = line is null || s.D % 11 == 0 ? Order(s.A, "open", "staged", "underway") : line.Order;
        var part = line?.Part ?? "A";
        alternate = s.D % 13 == 0 ? Kits.Parts[s.C % Kits.Parts.Length] : alternate ?? "S";
        var source = s.B % 3 == 0 ? line?.Source : null;
        var quantity = s.B % 4 == 0 || line is null ? Quantity(part, s.C, s.D) : s.B % 4 == 1 ? 1 : line.Short;
        LineSource? named = source is null ? null : Word.TryRead<LineSource>(source, out var word) ? word : throw new InvalidOperationException(source);
        return ("use alternate", model.UseAlternate(order, part, alternate, quantity, source),
            call => Said(new UseAlternate(Desk).Run(call, order.Number, new AlternateAsk(Part(part), Part(alternate), quantity, "it stands still", named), Ct)));
    }

    (string, string?, Runs) TakeBack(Step s)
    {
        var standIns = model.Orders.SelectMany(o => o.Lines).SelectMany(l => l.ReplacedBy).ToList();
        var one = standIns.Count == 0 ? null : standIns[s.A % standIns.Count];
        var order = one is null || s.D % 11 == 0 ? Order(s.B, "open", "staged", "underway") : one.Line.Order;
        var (part, alternate) = (one?.Line.Part ?? "A", one?.By.Part ?? "S");
        return ("take back", model.TakeBack(order, part, alternate),
            call => Said(new TakeBackAlternate(Desk).Run(call, order.Number, new AlternateBack(Part(part), Part(alternate), "it came after all"), Ct)));
    }

    (string, string?, Runs) Replan(Step s)
    {
        var order = Choose([.. model.Orders.Where(o => o.State == "open" && o.Lines.TrueForAll(l => l.Picked == 0))], model.Orders, s.A);
        return ("replan", model.Replan(order), async call =>
        {
            // Sent twice, the differences are asked for again; the command is the same one and answers the same.
            var seen = Seen.GetValueOrDefault(call.Key!.Key) ?? await Differences(order.Number);
            Seen[call.Key.Key] = seen;
            return seen.Refusal is { } refusal ? (refusal.Code, refusal.Sentence) : await Said(new ReplanOrder(Desk).Run(call, order.Number, new ReplanAsk(seen.Seen), Ct));
        });
    }

    sealed record Shown(string Seen, Refusal? Refusal);

    Dictionary<string, Shown> Seen { get; } = [];

    async Task<Shown> Differences(string number)
    {
        var view = await new ReplanDifferences(Desk).Of(number, Ct);
        return view.IsDone ? new Shown(view.Value.Seen, null) : new Shown("", view.Refusal);
    }
}

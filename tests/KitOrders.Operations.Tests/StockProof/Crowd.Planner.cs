using KitOrders.Operations.Orders;

namespace KitOrders.Operations.Tests.StockProof;

sealed partial class Crowd
{
    async Task UseAlternate(Random random)
    {
        if (await Look(random) is not { } order)
            return;
        var choices = order.Demand.Where(d => d.Short > 0)
            .SelectMany(d => Kits.Parts.Where(a => Kits.StandsIn(d.Part[(prefix.Length + 1)..], a)).Select(a => (Line: d, Alternate: a))).ToList();
        if (choices.Count == 0)
            return;
        var (line, alternate) = choices[random.Next(choices.Count)];
        var ask = new AlternateAsk(line.Part, Part(alternate), random.Next(2) == 0 ? 1 : line.Short, "it stands still", random.Next(2) == 0 ? line.Source : null);
        await Send(random, "use-alternate", call => new UseAlternate(Desk).Run(call, order.Number, ask, Ct), (_, t) => t);
    }

    async Task TakeBack(Random random)
    {
        if (await Look(random) is not { } order || order.Demand.FirstOrDefault(d => d.ReplacedBy.Count > 0) is not { } line)
            return;
        var ask = new AlternateBack(line.Part, line.ReplacedBy[0].Part, "it came after all");
        await Send(random, "take-back-alternate", call => new TakeBackAlternate(Desk).Run(call, order.Number, ask, Ct), (_, t) => t);
    }

    /// <summary>What was shown may be out of date by the time of the decision; then nothing is done.</summary>
    async Task Replan(Random random)
    {
        if (AnyOrder(random) is not { } order || (await new ReplanDifferences(Desk).Of(order, Ct)) is not { IsDone: true, Value: var shown })
            return;
        await Send(random, "replan-order", call => new ReplanOrder(Desk).Run(call, order, new ReplanAsk(shown.Seen), Ct), (_, t) => t);
    }
}

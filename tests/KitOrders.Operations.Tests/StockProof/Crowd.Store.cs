using KitOrders.Operations.Orders;
using KitOrders.Operations.People;
using KitOrders.Operations.Stock;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Stock;

namespace KitOrders.Operations.Tests.StockProof;

/// <summary>What the many do on the shelves, and how they take an order to its end.</summary>
sealed partial class Crowd
{
    Task Count(Random random)
    {
        var part = AnyPart(random);
        var count = new Count(Part(part), AnyBin(random), AnyLot(random), random.Next(6)) { Accept = random.Next(3) > 0 };
        return Send(random, "count-bin", call => new CountBin(Desk).Run(call, count, Ct), (answer, t) =>
            Moved(t, part, answer.Difference, MovementKind.CountDifference, answer.Difference == 0 ? 0 : 1));
    }

    Task Scrap(Random random)
    {
        var part = AnyPart(random);
        var scrap = new Scrap(Part(part), AnyBin(random), AnyLot(random), Some(random, part), "rust");
        return Send(random, "scrap-stock", call => new ScrapStock(Desk).Run(call, scrap, Ct), (_, t) => Moved(t, part, -scrap.Quantity, MovementKind.Scrap));
    }

    Task Transfer(Random random)
    {
        var part = AnyPart(random);
        var from = random.Next(3);
        var transfer = new Transfer(Part(part), AnyLot(random), ProofPlant.Bins[from], ProofPlant.Bins[(from + 1) % 3], Some(random, part));
        return Send(random, "transfer-stock", call => new TransferStock(Desk).Run(call, transfer, Ct), (_, t) => Moved(t, part, 0, MovementKind.Transfer, 2));
    }

    Task Quarantine(Random random)
    {
        var (part, lot) = (AnyPart(random), AnyLot(random));
        return random.Next(3) == 0
            ? Send(random, "quarantine-lot", call => new QuarantineLot(Desk).Run(call, Part(part), lot, "bag torn", Ct), (_, t) => t)
            : Send(random, "release-quarantine", call => new ReleaseQuarantine(Desk).Run(call, Part(part), lot, "looked at", null, Ct), (_, t) => t);
    }

    async Task Correct(Random random)
    {
        var part = AnyPart(random);
        var rows = (await new MovementsPage(Desk).Read(Part(part), null, 1_000, false, Ct)).Value.Items.Where(m => m.Kind is MovementKind.Receipt or MovementKind.Scrap).ToList();
        if (rows.Count == 0)
            return;
        var wrong = rows[random.Next(rows.Count)];
        await Send(random, "correct-movement", call => new CorrectMovement(Desk).Run(call, wrong.Id, "wrong part", Ct), (answer, t) =>
            Moved(t, part, answer.Quantity, wrong.Kind));
    }

    /// <summary>Takes an order one step further: staged without what is short, started, worked on and finished, closed.</summary>
    async Task Through(Random random)
    {
        if (await Look(random) is not { } order)
            return;
        switch (order.State)
        {
            case OrderState.Open:
                var without = order.Demand.Where(d => d.Short > 0 && d.ReleasedBy is null).Select(d => d.Part).Distinct().Select(p => new LineRelease(p, "not needed")).ToList();
                await Send(random, "stage-order", call => new StageOrder(Desk).Run(call, order.Number, "S-1", without, Ct), (_, t) => t);
                break;
            case OrderState.Staged:
                await Send(random, "start-order", call => new StartOrder(Desk).Run(call, order.Number, null, Ct), (_, t) => t);
                break;
            case OrderState.Underway:
                var record = new RecordStep(Desk, new CheckPin(Desk));
                foreach (var step in order.Steps.Where(s => !s.Recorded))
                    await record.Run(plant.Call, order.Number, step.Step, new StepInput(StepOutcome.AsSpecified), Ct);
                await Send(random, "finish-order", call => new FinishOrder(Desk).Run(call, order.Number, [new HoursInput("Iris Imports", 1)], null, null, Ct), (_, t) => t);
                break;
            case OrderState.Finished:
                await Close(random, order);
                break;
        }
    }

    async Task Close(Random random, OrderView order)
    {
        var inHand = order.Demand.SelectMany(d => d.Reservations.Select(r => (d.Part, r.Id, Quantity: r.Picked - r.Fitted - r.Returned - r.Scrapped)))
            .Where(r => r.Quantity > 0).ToList();
        var back = inHand.Where(_ => random.Next(3) == 0).ToList();
        var accounts = inHand.ConvertAll(r => back.Contains(r) ? new PartAccount(r.Id, 0, r.Quantity) : new PartAccount(r.Id, r.Quantity));
        await Send(random, "close-order", call => new CloseOrder(Desk).Run(call, order.Number, accounts, null, Ct), (_, t) => t with
        {
            OnHand = back.ConvertAll(b => (b.Part, b.Quantity)), Movements = [(MovementKind.Return, back.Count)],
        });
    }
}

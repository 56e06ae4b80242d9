using CsCheck;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Planning;
using KitOrders.Rules.Stock;
using Xunit;

namespace KitOrders.Rules.Tests.Planning;

public class ReadinessProperties
{
    static readonly DateOnly AsOf = new(2026, 3, 2);

    static readonly Gen<(int Part, int Required, int Reserved)> AnyLine = Gen.Select(Gen.Int[1, 3], Gen.Int[1, 6], Gen.Int[0, 2]);
    static readonly Gen<(int Fit, List<(int Part, int Required, int Reserved)> Lines)> AnyOrder = Gen.Select(Gen.Int[-5, 30], AnyLine.List[0, 4]);
    static readonly Gen<(int Part, int Expires, int Free)> AnyLot = Gen.Select(Gen.Int[1, 3], Gen.Int[-10, 40], Gen.Int[0, 6]);
    static readonly Gen<(int Part, int Promised, int Quantity)> AnyIncoming = Gen.Select(Gen.Int[1, 3], Gen.Int[-5, 30], Gen.Int[1, 6]);

    [Fact]
    public void Nothing_is_promised_twice_and_every_line_adds_up() => Gen.Select(AnyOrder.List[0, 6], AnyLot.List[0, 8], AnyIncoming.List[0, 8]).Sample((orders, lots, incoming) =>
    {
        var facts = Facts(orders, lots, incoming);

        var ready = Readiness.Of(facts);

        Assert.Equal(facts.Orders.Select(o => o.Order), ready.Select(r => r.Order));
        var lines = facts.Orders.SelectMany(o => o.Lines).ToDictionary(l => l.Line);
        var waiting = ready.SelectMany(r => r.Waiting).ToList();
        foreach (var part in facts.Parts.Keys)
        {
            var free = facts.Lots.Where(l => l.Part == part).Sum(l => l.Free);
            var coming = facts.Incoming.Where(i => i.Part == part).Sum(i => i.Quantity);
            var wanted = lines.Values.Where(l => l.Part == part).Sum(l => l.Wanting);
            var promised = waiting.Where(w => w.Part == part).SelectMany(w => w.Promises).Sum(p => p.Quantity);
            var uncovered = waiting.Where(w => w.Part == part).Sum(w => w.Uncovered);
            Assert.True(promised <= coming);
            Assert.True(wanted - promised - uncovered >= 0 && wanted - promised - uncovered <= free, "the rest came from free lots");
            Assert.True(uncovered == 0 || promised == coming, "uncovered while something is still to come");
        }

        Assert.All(ready, r =>
        {
            Assert.Equal(r.Waiting.Any(w => w.Uncovered > 0), r.ReadyOn is null);
            Assert.Equal(r.Waiting.Sum(w => w.Uncovered), r.Uncovered.Sum(u => u.Quantity));
            Assert.Equal(r.Waiting.Count == 0, r.BindingPart is null);
            Assert.True(r.ReadyIfBoughtToday >= AsOf && (r.ReadyOn is null || r.ReadyIfBoughtToday == r.ReadyOn));
        });
    });

    [Fact]
    public void A_lower_order_never_changes_what_a_higher_one_gets() => Gen.Select(AnyOrder.List[1, 6], AnyLot.List[0, 8], AnyIncoming.List[0, 8]).Sample((orders, lots, incoming) =>
    {
        static string Read(IEnumerable<OrderReadiness> ready) => string.Join(';', ready.Select(r => $"{r.Order} {r.ReadyOn} {r.ReadyIfBoughtToday} {r.BindingPart} {string.Join(',', r.Uncovered)}"));
        var all = Readiness.Of(Facts(orders, lots, incoming));

        var withoutLast = Readiness.Of(Facts(orders[..^1], lots, incoming));

        Assert.Equal(Read(all.SkipLast(1)), Read(withoutLast));
    });

    static ReadinessFacts Facts(
        List<(int Fit, List<(int Part, int Required, int Reserved)> Lines)> orders,
        List<(int Part, int Expires, int Free)> lots,
        List<(int Part, int Promised, int Quantity)> incoming) => new(
            new PromiseRule(AsOf, 7),
            [.. orders.Select((o, i) => new OrderFact(
                new OrderId(i),
                AsOf.AddDays(o.Fit),
                [.. o.Lines.Select((l, n) => new LineFact(new DemandLineId((100 * i) + n), new PartId(l.Part), l.Required, 0, Math.Min(l.Reserved, l.Required)))]))],
            [.. lots.Select((l, i) => new LotBalance(new PartId(l.Part), new LotId(i), $"L{i}", new BinId(1), 1, AsOf, AsOf.AddDays(l.Expires), false, l.Free, 0))],
            [.. incoming.Select((c, i) => new IncomingFact(new PartId(c.Part), $"PO-{i}", AsOf.AddDays(c.Promised), c.Quantity))],
            Enumerable.Range(1, 3).ToDictionary(i => new PartId(i), i => new LeadFact(new PartId(i), $"P{i}", 10 * i)));
}

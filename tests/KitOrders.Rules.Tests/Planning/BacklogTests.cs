using KitOrders.Rules.Orders;
using KitOrders.Rules.Planning;
using Xunit;

namespace KitOrders.Rules.Tests.Planning;

public class BacklogTests
{
    static readonly DateOnly AsOf = new(2026, 3, 2);

    // Our own example on the published definition: crew of 6 × 40 h + 24 h overtime − 38 h meetings and leave = 226 h a week.
    static readonly CrewWeek Crew = new(6, 40, 24, 38);

    static BacklogOrder Order(int id, decimal? hours, bool planned = true, bool inHand = true, bool started = false, int workClass = 5, int ageDays = 0) =>
        new(new OrderId(id), workClass, hours, planned, inHand, started, AsOf.AddDays(-ageDays));

    static readonly BacklogOrder[] Orders =
    [
        Order(1, 500), Order(2, 80), Order(3, 340, inHand: false),
        Order(4, 1_000, planned: false), Order(5, 1_000, started: true), Order(6, null),
    ];

    [Fact]
    public void Ready_backlog_counts_planned_work_with_materials_in_hand_as_in_SMRP_5_4_9()
    {
        var ready = Backlog.Ready(Orders, [Crew]);

        Assert.Equal((580m, 226m), (ready.Hours, ready.CapacityPerWeek));
        Assert.Equal(2.566m, decimal.Round(ready.Weeks!.Value, 3));
        Assert.Equal([new OrderId(1), new OrderId(2)], ready.Orders);
    }

    [Fact]
    public void Planned_backlog_adds_what_is_planned_but_not_ready_as_in_the_sixth_edition_of_SMRP()
    {
        var planned = Backlog.Planned(Orders, [Crew]);

        Assert.Equal(920m, planned.Hours);
        Assert.Equal(4.071m, decimal.Round(planned.Weeks!.Value, 3));
        Assert.Equal([new OrderId(1), new OrderId(2), new OrderId(3)], planned.Orders);
    }

    [Fact]
    public void Crews_add_up_and_without_capacity_there_are_no_weeks()
    {
        Assert.Equal(580m / 306, Backlog.Ready(Orders, [Crew, new CrewWeek(2, 40)]).Weeks);
        Assert.Null(Backlog.Ready(Orders, []).Weeks);
        Assert.Equal(580, Backlog.Ready(Orders, []).Hours);
    }

    [Fact]
    public void Ageing_shows_what_has_not_started_by_work_class()
    {
        var rows = Backlog.Ageing(
            [
                Order(1, 2, ageDays: 7), Order(2, 3, ageDays: 8), Order(3, null, ageDays: 30), Order(4, 1, ageDays: 90, planned: false),
                Order(5, 1, ageDays: 91), Order(6, 4, workClass: 9), Order(7, 4, workClass: 9, started: true),
            ],
            AsOf);

        Assert.Equal([(9, 4m, 0), (5, 7m, 91)], rows.Select(r => (r.WorkClass, r.Hours, r.OldestDays)));
        Assert.Equal((1, 2, 1, 1), (rows[1].UpToAWeek, rows[1].UpToAMonth, rows[1].UpToAQuarter, rows[1].Older));
        Assert.Equal([new OrderId(6)], rows[0].Orders);
    }
}

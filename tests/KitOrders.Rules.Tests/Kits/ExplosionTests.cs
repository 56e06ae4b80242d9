using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using Xunit;

namespace KitOrders.Rules.Tests.Kits;

public class ExplosionTests
{
    static KitBench TwoOrdersForOneBox()
    {
        var bench = new KitBench();
        foreach (var part in "KVPEQBCS")
        {
            _ = bench[part.ToString()];
        }

        return bench
            .Kit("K", true, bench.Box("V", 1), bench.Box("P", 1), bench.Bought("E", 1), bench.Kept("Q", 2, SparePolicy.All))
            .Kit("V", true, bench.Box("B", 1), bench.Box("C", 1), bench.Box("S", 1))
            .Free("K", 1).Free("B", 4).Free("S", 2).Free("P", 9).Free("E", 1).Free("Q", 3);
    }

    [Fact]
    public void The_first_of_two_orders_takes_the_box_and_the_second_is_built_and_short()
    {
        var bench = TwoOrdersForOneBox();

        var first = bench.Explode(("K", 1));
        Assert.Equal(["K inTheBox 1=1+0 short 0", "E boughtSeparately 1=1+0 short 0", "Q carriedOver 2=2+0 short 0"], bench.Read(first));

        bench.Reserve(first);
        var second = bench.Explode(("K", 1));
        Assert.Equal(
            [
                "K inTheBox 1=0+1 short 0",
                "V inTheBox 1=0+1 short 0",
                "P inTheBox 1=1+0 short 0",
                "E boughtSeparately 1=1+0 short 1",
                "Q carriedOver 2=2+0 short 1",
                "B inTheBox 1=1+0 short 0",
                "C inTheBox 1=1+0 short 1",
                "S inTheBox 1=1+0 short 0",
            ],
            bench.Read(second));
        Assert.Equal(1, second.Lines.Single(l => l.Part == bench["Q"]).Covered);
        Assert.True(second.Lines.Single(l => l.Part == bench["Q"]).Spare);
    }

    [Fact]
    public void A_box_that_may_not_be_built_is_short_as_itself_and_its_content_is_not_demanded()
    {
        var bench = new KitBench();
        bench.Kit("K", false, bench.Box("P", 2), bench.Bought("E", 1)).Free("K", 1).Free("P", 9);

        Assert.Equal(["K inTheBox 3=3+0 short 2", "E boughtSeparately 3=3+0 short 3"], bench.Read(bench.Explode(("K", 3))));
    }

    [Fact]
    public void A_partly_boxed_kit_builds_the_rest_but_buys_for_all()
    {
        var bench = new KitBench();
        bench.Kit("K", true, bench.Box("P", 2), bench.Bought("E", 3)).Free("K", 1).Free("P", 3);

        Assert.Equal(
            ["K inTheBox 3=1+2 short 0", "P inTheBox 4=4+0 short 1", "E boughtSeparately 9=9+0 short 9"],
            bench.Read(bench.Explode(("K", 3))));
    }

    [Theory]
    [InlineData(1, true)] // K boxed, V inside it
    [InlineData(0, true)] // K built, V built
    [InlineData(0, false)] // K short, V inside the box that is to come
    public void What_an_assembly_inside_calls_for_besides_its_box_is_demanded_however_the_kit_comes(int boxes, bool buildable)
    {
        var bench = new KitBench();
        bench.Kit("K", buildable, bench.Box("V", 2))
            .Kit("V", true, bench.Box("B", 1), bench.Bought("E", 3), bench.Kept("Q", 2, SparePolicy.All), bench.Supply("G", 0.5m))
            .Part("G", p => p with { Unit = Unit.G })
            .Free("K", boxes);

        var plan = bench.Explode(("K", 1));

        Assert.Equal(6, plan.Lines.Single(l => l.Part == bench["E"]).Gross);
        Assert.Equal(4, plan.Lines.Single(l => l.Part == bench["Q"]).Gross);
        Assert.Equal(1, plan.Lines.Single(l => l.Part == bench["G"]).Gross);
        Assert.Equal(boxes == 0 && buildable, plan.Lines.Any(l => l.Part == bench["B"]));
    }

    [Fact]
    public void An_item_is_netted_once_after_the_demand_of_all_levels_is_known()
    {
        var bench = new KitBench();
        bench.Kit("K", true, bench.Box("S", 1), bench.Box("V", 1)).Kit("V", true, bench.Box("W", 1)).Kit("W", true, bench.Box("S", 4)).Free("S", 3);

        var plan = bench.Explode(("K", 2));

        var seals = Assert.Single(plan.Lines, l => l.Part == bench["S"]);
        Assert.Equal((10m, 3m, 7m), (seals.Gross, seals.Covered, seals.Short));
        Assert.Equal([new Origin(bench["K"], 1, 2), new Origin(bench["W"], 1, 8)], seals.Origins);
    }

    [Fact]
    public void Stock_goes_to_the_box_then_to_what_is_bought_then_to_shop_supply_and_last_to_spares()
    {
        var bench = new KitBench();
        bench.Kit("K", true, bench.Kept("X", 2, SparePolicy.All), bench.Supply("X", 2), bench.Bought("X", 2), bench.Box("X", 2)).Free("X", 5);

        Assert.Equal(
            [
                "K inTheBox 1=0+1 short 0",
                "X inTheBox 2=2+0 short 0",
                "X boughtSeparately 2=2+0 short 0",
                "X shopSupply 2=2+0 short 1",
                "X carriedOver 2=2+0 short 2",
            ],
            bench.Read(bench.Explode(("K", 1))));
    }

    [Fact]
    public void Boxed_assemblies_go_to_the_sources_in_the_same_order_and_the_rest_is_built()
    {
        var bench = new KitBench();
        bench.Kit("K", true, bench.Box("V", 1), bench.Kept("V", 2, SparePolicy.All)).Kit("V", true, bench.Box("B", 1)).Free("V", 2);

        Assert.Equal(
            [
                "K inTheBox 1=0+1 short 0",
                "V inTheBox 1=1+0 short 0",
                "V carriedOver 2=1+1 short 0",
                "B inTheBox 1=1+0 short 1",
            ],
            bench.Read(bench.Explode(("K", 1))));
    }

    [Fact]
    public void Two_kits_of_one_order_share_one_line_that_remembers_both()
    {
        var bench = new KitBench();
        bench.Kit("K1", true, bench.Bought("E", 1)).Kit("K2", true, bench.Box("P", 1), bench.Bought("E", 2));

        var line = bench.Explode(("K1", 3), ("K2", 2)).Lines.Single(l => l.Part == bench["E"]);

        Assert.Equal(7, line.Gross);
        Assert.Equal([new Origin(bench["K1"], 1, 3), new Origin(bench["K2"], 2, 4)], line.Origins);
    }

    [Fact]
    public void The_kit_itself_is_asked_for_by_the_order_and_names_no_line()
    {
        var bench = new KitBench();
        bench.Kit("K", true, bench.Box("P", 1));

        Assert.Equal([new Origin(bench["K"], 0, 5)], bench.Explode(("K", 2), ("K", 3)).Lines[0].Origins);
    }

    /// <summary>MRP netting: net = max(0, gross − scheduled receipts − on hand), as in the course handout "Aldershot Manufacturing" chairs (scribd 521630993).</summary>
    [Theory]
    [InlineData("seat", 1, 110, 25)]
    [InlineData("back", 1, 50, 85)]
    [InlineData("leg", 4, 80, 460)]
    public void Parts_of_135_chairs_are_short_as_printed_in_the_chair_handout(string part, int perChair, int onHandAndReceived, int net)
    {
        var bench = new KitBench();
        bench.Kit("chair", true, bench.Box(part, perChair)).Free(part, onHandAndReceived);

        Assert.Equal(net, bench.Explode(("chair", 135)).Lines.Single(l => l.Part == bench[part]).Short);
    }

    [Fact]
    public void Chairs_on_hand_are_used_before_any_is_built()
    {
        // Same handout: 40 chairs projected on hand before week 5, 175 demanded, net 135.
        var bench = new KitBench();
        bench.Kit("chair", true, bench.Box("leg", 4)).Free("chair", 40);

        Assert.Equal(["chair inTheBox 175=40+135 short 0", "leg inTheBox 540=540+0 short 540"], bench.Read(bench.Explode(("chair", 175))));
    }

    /// <summary>Nahmias, Production and Operations Analysis, trumpet example: valves on hand 186, gross 126, 126, 96, receipt 96 before week 5.</summary>
    [Theory]
    [InlineData(186, 126, 0)]
    [InlineData(60 + 96, 126, 0)]
    [InlineData(30, 96, 66)]
    public void Valves_of_the_trumpet_example_are_netted_as_printed(int free, int gross, int net)
    {
        var bench = new KitBench();
        bench.Kit("casing", true, bench.Box("valve", 3)).Free("valve", free);

        Assert.Equal(net, bench.Explode(("casing", gross / 3)).Lines.Single(l => l.Part == bench["valve"]).Short);
    }

    [Fact]
    public void A_structure_of_two_levels_explodes_as_in_the_published_exercise()
    {
        // Inputs as printed at answerstreak.com: A = 2 B + 3 C; B = 2 D + 3 E; C = 2 F + 1 E; 95 A. Quantities are our arithmetic.
        var bench = new KitBench();
        bench.Kit("A", true, bench.Box("B", 2), bench.Box("C", 3))
            .Kit("B", true, bench.Box("D", 2), bench.Box("E", 3))
            .Kit("C", true, bench.Box("F", 2), bench.Box("E", 1));

        var gross = bench.Explode(("A", 95)).Lines.ToDictionary(l => bench.NumberOf(l.Part), l => l.Gross);

        Assert.Equal(
            new Dictionary<string, decimal> { ["A"] = 95, ["B"] = 190, ["C"] = 285, ["D"] = 380, ["E"] = 855, ["F"] = 570 }, gross);
    }

    [Fact]
    public void Building_five_kits_falls_short_of_the_parts_that_would_make_only_three()
    {
        var bench = new KitBench();
        bench.Kit("K", true, bench.Box("diaphragm", 2), bench.Box("ball", 4), bench.Box("seat", 4), bench.Box("o-ring set", 1))
            .Free("diaphragm", 9 - 1).Free("ball", 18).Free("seat", 15 - 2).Free("o-ring set", 7);

        Assert.All(bench.Explode(("K", 3)).Lines, l => Assert.Equal(0, l.Short));
        Assert.Equal(
            [("diaphragm", 2m), ("ball", 2m), ("seat", 7m)],
            bench.Explode(("K", 5)).Lines.Where(l => l.Short > 0).Select(l => (bench.NumberOf(l.Part), l.Short)));
        Assert.Equal([("seat", 3m)], bench.Explode(("K", 4)).Lines.Where(l => l.Short > 0).Select(l => (bench.NumberOf(l.Part), l.Short)));
    }

    [Fact]
    public void Quantities_beyond_all_sense_are_refused_rather_than_overflowing()
    {
        var bench = new KitBench();
        bench.Kit("K", true, bench.Box("V", 9_999_999)).Kit("V", true, bench.Box("W", 9_999_999)).Kit("W", true, bench.Kept("X", 9_999_999, SparePolicy.All));

        Assert.Equal("quantity-too-large", Explosion.Explode(bench.Facts(("K", 9_999))).Refusal?.Code);
    }
}

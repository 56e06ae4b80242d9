using KitOrders.Operations.Kits;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Pumps;
using KitOrders.Web.Planner;
using Xunit;

namespace KitOrders.Web.Tests.Planner;

public sealed class KitSheetTests
{
    static readonly Dictionary<string, DraftPart> parts = [];

    static DraftContent Content() => new(true,
        [
            new DraftLine(1, "V", 1, LineSource.InTheBox), new DraftLine(3, "E", 2, LineSource.BoughtSeparately),
            new DraftLine(4, "Q", 2, LineSource.CarriedOver) { SparePolicy = SparePolicy.ByRate, RejectRate = 0.09m },
            new DraftLine(8, "T", 1, LineSource.ShopSupply) { Wraps = 3, WrapsFor = [3, 1] },
        ],
        [
            new DraftFit("M30")
            {
                ConvertsTo = "M30-S", NeedsSensingRod = true, Ports = "exhaust=NPT 1/2 male", SupplyKind = SupplyKind.Dc, Volts = 24, VoltsTolerancePct = 10, Amps = 0.2m,
                ExMarking = "Gb IIC T4", Materials = ["PP", "PTFE"], Once = true, RequiresKits = ["A"], ExcludesKits = ["B", "C"],
            },
        ]);

    static KitSheet Sheet() => KitSheet.Of(Content(), parts);

    [Fact]
    public void What_is_read_from_the_sheet_is_what_was_put_on_it()
    {
        var sheet = Sheet();
        Assert.Equivalent(Content(), sheet.Read().Value, strict: true);
        Assert.False(sheet.Changed);
        sheet.Lines[0].Quantity = "2";
        Assert.True(sheet.Changed);
        sheet.Kept();
        Assert.False(sheet.Changed);
    }

    [Fact]
    public void A_line_that_moves_takes_the_wraps_that_serve_it_along()
    {
        var sheet = Sheet();
        Assert.True(sheet.Move(sheet.Lines[1], -1));
        Assert.Equal(["1 E", "3 V", "4 Q", "8 T"], sheet.Lines.Select(l => $"{l.Number} {l.Part}"));
        Assert.Equal([1, 3], sheet.Read().Value.Lines[3].WrapsFor);
        Assert.False(sheet.Move(sheet.Lines[0], -1));
        Assert.False(sheet.Move(sheet.Lines[3], 1));
        sheet.Renumber();
        Assert.Equal(["1 E", "2 V", "3 Q", "4 T"], sheet.Lines.Select(l => $"{l.Number} {l.Part}"));
        Assert.Equal([1, 2], sheet.Read().Value.Lines[3].WrapsFor);
        Assert.True(sheet.InOrder);
    }

    [Fact]
    public void A_line_taken_out_leaves_the_numbers_of_the_others_and_a_new_one_goes_to_the_end()
    {
        var sheet = Sheet();
        sheet.Remove(sheet.Lines[1]);
        Assert.Equal(9, sheet.Add().Number);
        Assert.Equal([1, 4, 8, 9], sheet.Lines.Select(l => l.Number));
        Assert.Equal([3, 1], sheet.Read().Value.Lines[2].WrapsFor);
    }

    [Fact]
    public void What_cannot_be_read_is_named_by_its_field_and_stays_as_typed()
    {
        var sheet = Sheet();
        (sheet.Lines[0].Quantity, sheet.Lines[2].Rate, sheet.Lines[3].WrapsFor, sheet.Fits[0].Volts) = ("two", "9 %", "5 and 8", "24V");
        var refusal = sheet.Read().Refusal!;
        Assert.Equal(["fits[0].volts", "lines[0].quantity", "lines[2].rejectRate", "lines[3].wrapsFor"], refusal.Errors.Keys.Order(StringComparer.Ordinal));
        Assert.StartsWith("4 fields cannot be read: \"two\" is no number.", refusal.Sentence, StringComparison.Ordinal);
        Assert.Equal(("two", "9 %", "5 and 8", "24V"), (sheet.Lines[0].Quantity, sheet.Lines[2].Rate, sheet.Lines[3].WrapsFor, sheet.Fits[0].Volts));
    }

    [Fact]
    public void A_field_that_the_source_does_not_show_says_nothing()
    {
        var sheet = Sheet();
        (sheet.Lines[2].Source, sheet.Lines[3].Source) = (LineSource.InTheBox, LineSource.BoughtSeparately);
        var lines = sheet.Read().Value.Lines;
        Assert.Equal((SparePolicy.None, (decimal?)null, (decimal?)null, 0), (lines[2].SparePolicy, lines[2].RejectRate, lines[3].Wraps, lines[3].WrapsFor.Count));
        sheet.Lines[2].Source = LineSource.CarriedOver;
        Assert.Equal(0.09m, sheet.Read().Value.Lines[2].RejectRate);
    }
}

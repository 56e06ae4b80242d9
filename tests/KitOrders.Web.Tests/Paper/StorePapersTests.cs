using KitOrders.Web.Paper;
using Xunit;

namespace KitOrders.Web.Tests.Paper;

public sealed class StorePapersTests
{
    public static TheoryData<string> Sizes => ["a4", "letter"];

    static PaperSize Size(string name) => PaperSize.Read(name, PaperSize.A4).Value;

    [Theory]
    [MemberData(nameof(Sizes))]
    public void A_pick_list_walks_the_bins_and_each_part_can_be_scanned(string size)
    {
        var printed = PrintedPaper.Read(PickList.Print(PaperPlant.Run(30), Size(size), PaperPlant.Head("Pick list", "10482,10486")));
        Assert.Equal(["10482", "10486", .. Enumerable.Range(1, 30).Select(n => $"30-22{n:00}")], printed.Codes);
        Assert.Equal(Enumerable.Range(1, 30).Select(n => $"01-A-{n:00}"), printed.All.Where(t => t.StartsWith("01-A-", StringComparison.Ordinal) && t.Length == 7));
        Assert.Contains("A 1", printed.All);
        Assert.Contains("B 2", printed.All);
        Assert.InRange(printed.Texts.Count, 2, 4);
        Assert.All(printed.Texts.Where(t => t.Any(x => x.StartsWith("lot ", StringComparison.Ordinal))), t => Assert.Contains("If short: found, why", t));
    }

    [Fact]
    public void What_is_short_stands_under_the_list_with_its_order()
    {
        var texts = PrintedPaper.Read(PickList.Print(PaperPlant.Run(2), PaperSize.A4, PaperPlant.Head("Pick list", "x"))).All;
        Assert.Equal("1 × 30-11", texts[texts.ToList().IndexOf("Short on order 10482, not on this list:") + 1]);
    }

    [Fact]
    public void What_stands_in_for_another_part_is_said_under_the_list()
    {
        var run = PaperPlant.Run(2);
        run = run with { Lines = [run.Lines[0] with { Pieces = [run.Lines[0].Pieces[0] with { InPlaceOf = "30-9901" }] }, run.Lines[1]] };
        var texts = PrintedPaper.Read(PickList.Print(run, PaperSize.A4, PaperPlant.Head("Pick list", "x"))).All;
        Assert.Equal("30-2201 in place of 30-9901 on order 10482.", texts[texts.ToList().IndexOf("Alternates, by a planner's decision:") + 1]);
    }

    [Fact]
    public void What_has_been_picked_is_not_walked_again()
    {
        var run = PaperPlant.Run(3);
        run = run with { Lines = [run.Lines[0] with { Pieces = [.. run.Lines[0].Pieces.Select(p => p with { Held = 0, Picked = p.Held })] }, .. run.Lines.Skip(1)] };
        Assert.Equal(["01-A-02", "01-A-03"], PickList.ToTake(run).Select(l => l.Bin));
        Assert.DoesNotContain("01-A-01", PrintedPaper.Read(PickList.Print(run, PaperSize.A4, PaperPlant.Head("Pick list", "x"))).All);
    }

    [Theory]
    [MemberData(nameof(Sizes))]
    public void A_kit_tag_says_whose_it_is_where_it_waits_and_what_is_missing(string size)
    {
        var printed = PrintedPaper.Read(KitTag.Print(PaperPlant.Order, Size(size), PaperPlant.Head("Kit tag", "10482")));
        Assert.Equal(["10482"], printed.Codes);
        Assert.Single(printed.Texts);
        Assert.Subset(printed.All.ToHashSet(), new HashSet<string> { "10482", "S-2", "GP-204", "V-1", "L-V-1", "L-P-1", "Not in this kit:", "1 × P-1, The P-1: short" });
    }

    [Theory]
    [MemberData(nameof(Sizes))]
    public void Bin_labels_stand_twelve_to_a_sheet_and_each_reads_as_its_bin(string size)
    {
        var bins = Enumerable.Range(1, BinLabels.OnASheet + 1).Select(n => $"04-C-{n:00}").ToList();
        var printed = PrintedPaper.Read(BinLabels.Print(bins, Size(size), PaperPlant.Head("Bin labels", "all")));
        Assert.Equal(2, printed.Texts.Count);
        Assert.Equal(bins, printed.All.Where(t => t.StartsWith("04-C-", StringComparison.Ordinal)));
        Assert.Equal(bins, printed.Codes);
    }

    [Theory]
    [InlineData("Straße-7")]
    [InlineData("")]
    [InlineData("μ-bin")]
    public void What_Code_128_cannot_hold_is_left_to_the_other_code(string text) => Assert.Null(Bars.Code128(text));

    [Fact]
    public void A_QR_code_reads_as_its_text()
    {
        var rows = Bars.Qr("Straße-7, Regal 3");
        const int scale = 4;
        var side = rows.Count * scale;
        var light = new byte[side * side];
        for (var y = 0; y < side; y++)
            for (var x = 0; x < side; x++)
                light[y * side + x] = rows[y / scale][x / scale] ? (byte)0 : (byte)255;
        var read = new ZXing.BarcodeReaderGeneric { Options = { PossibleFormats = [ZXing.BarcodeFormat.QR_CODE] } }
            .Decode(new ZXing.RGBLuminanceSource(light, side, side, ZXing.RGBLuminanceSource.BitmapFormat.Gray8));
        Assert.Equal("Straße-7, Regal 3", read?.Text);
    }

    [Fact]
    public void A_long_code_is_printed_as_QR_rather_than_with_bars_too_thin_to_read()
    {
        var printed = PrintedPaper.Read(PickList.Print(PaperPlant.Run(1, part: "A-very-long-part-number-of-somebody-"), PaperSize.A4, PaperPlant.Head("Pick list", "x")));
        Assert.Equal(["10482", "10486"], printed.Codes);
        Assert.Contains("A-very-long-part-number-of-somebody-01", printed.All);
    }
}

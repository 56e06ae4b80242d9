using System.Text.RegularExpressions;
using KitOrders.Web.Layout;
using MudBlazor;
using Xunit;

namespace KitOrders.Web.Tests.Shared;

/// <summary>Contrast by WCAG 2.2: text at 7:1 (success criterion 1.4.6, AAA), outlines at 3:1 (1.4.11, AA).</summary>
public sealed partial class PaletteTests
{
    static readonly IReadOnlyDictionary<string, (string Light, string Dark)> Colour = Css.Colours();

    static readonly string[] Surfaces = ["paper", "sheet", "sunk", "wash"];

    [Fact]
    public void The_formula_gives_the_extremes_the_guideline_names()
    {
        Assert.Equal(21, Css.Contrast("#000000", "#FFFFFF"), 6);
        Assert.Equal(1, Css.Contrast("#084B52", "#084B52"), 6);
    }

    public static TheoryData<string, string> Texts()
    {
        var pairs = new TheoryData<string, string>();
        foreach (var surface in Surfaces)
        {
            pairs.Add("ink", surface);
            pairs.Add("ink-2", surface);
            pairs.Add("petrol", surface);
            pairs.Add("petrol-2", surface);
        }

        pairs.Add("on-ink", "ink");
        pairs.Add("on-petrol", "petrol");
        pairs.Add("on-petrol", "petrol-2");
        foreach (var word in (string[])["danger", "warning", "caution", "notice"])
        {
            pairs.Add($"on-sig-{word}", $"sig-{word}");
        }

        return pairs;
    }

    [Theory]
    [MemberData(nameof(Texts))]
    public void Text_is_at_least_seven_to_one_in_light_and_dark(string text, string on) => AtLeast(7, text, on);

    public static TheoryData<string, string> Outlines() =>
        [.. from line in (string[])["ink-3", "focus"] from surface in Surfaces select (line, surface)];

    [Theory]
    [MemberData(nameof(Outlines))]
    public void Outlines_and_the_focus_ring_are_at_least_three_to_one_in_light_and_dark(string line, string on) => AtLeast(3, line, on);

    [Fact]
    public void Colour_of_the_signal_kind_is_named_by_the_caution_block_alone()
    {
        var users = Css.Sheets().Where(s => s != "tokens").SelectMany(s => Rule().Matches(Css.Read(s)))
            .Where(m => m.Groups[2].Value.Contains("sig-", StringComparison.Ordinal)).Select(m => m.Groups[1].Value.Trim()).ToArray();
        Assert.Equal([".caution>b", ".danger>b", ".notice>b", ".warning>b"], users.Order(StringComparer.Ordinal));
    }

    [Fact]
    public void No_sheet_but_the_tokens_brings_a_colour_of_its_own()
    {
        // Paper is black on white whatever the screen; nothing else may name a colour.
        foreach (var sheet in Css.Sheets().Where(s => s is not ("tokens" or "print")))
        {
            Assert.DoesNotMatch(@"(?<!url\([^)]*)#[0-9A-Fa-f]{3,8}\b(?=[\s;}])", Css.Read(sheet));
        }
    }

    [Fact]
    public void The_component_librarys_palette_holds_the_same_values()
    {
        var theme = KitOrdersTheme.Theme;
        (string Token, Func<Palette, object> Of)[] pairs =
        [
            ("paper", p => p.Background), ("sheet", p => p.Surface), ("ink", p => p.TextPrimary), ("ink-2", p => p.TextSecondary),
            ("ink-3", p => p.LinesInputs), ("rule", p => p.Divider), ("petrol", p => p.Primary), ("petrol-2", p => p.PrimaryDarken),
            ("on-petrol", p => p.PrimaryContrastText), ("wash", p => p.TableHover), ("on-ink", p => p.DarkContrastText),
            ("ink", p => p.Error), ("ink", p => p.Warning), ("ink", p => p.Success), ("ink", p => p.Info),
        ];
        foreach (var (token, of) in pairs)
        {
            Assert.Equal(Colour[token].Light, Hex(of(theme.PaletteLight)), ignoreCase: true);
            Assert.Equal(Colour[token].Dark, Hex(of(theme.PaletteDark)), ignoreCase: true);
        }
    }

    static string Hex(object colour) => colour is MudBlazor.Utilities.MudColor c ? c.ToString(MudBlazor.Utilities.MudColorOutputFormats.Hex)[..7] : Hex(new MudBlazor.Utilities.MudColor((string)colour));

    static void AtLeast(double ratio, string front, string back)
    {
        foreach (var (f, b) in (ReadOnlySpan<(string, string)>)[(Colour[front].Light, Colour[back].Light), (Colour[front].Dark, Colour[back].Dark)])
        {
            Assert.True(Css.Contrast(f, b) >= ratio, $"{front} {f} on {back} {b} is {Css.Contrast(f, b):0.00}, wanted {ratio}");
        }
    }

    [GeneratedRegex(@"([^{}]+)\{([^{}]*)\}")]
    private static partial Regex Rule();
}

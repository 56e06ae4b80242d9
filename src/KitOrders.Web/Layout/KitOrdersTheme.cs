using MudBlazor;

namespace KitOrders.Web.Layout;

/// <summary>
/// MudBlazor's theme in our values. The same values stand in wwwroot/css/tokens.css, which css/mud.css lays over the
/// palette; a test holds the two together.
/// </summary>
public static class KitOrdersTheme
{
    static readonly string[] Font = ["Atkinson Hyperlegible Next", "Segoe UI", "system-ui", "sans-serif"];

    public static readonly MudTheme Theme = new()
    {
        PaletteLight = Fill(new PaletteLight(), new("#F2EFE7", "#FBFAF5", "#151D1C", "#424A48", "#747A75", "#D3CDBF", "#084B52", "#063A40", "#FFFFFF", "#DAE7E3", "#FBFAF5")),
        PaletteDark = Fill(new PaletteDark(), new("#141817", "#1B2120", "#F0ECE2", "#BFBCB2", "#868A84", "#343C3A", "#84D2D1", "#A5E2E0", "#0A1D1E", "#132F30", "#141817")),
        LayoutProperties = new LayoutProperties { DefaultBorderRadius = "3px", AppbarHeight = "48px" },
        Typography = Letters(),
        Shadows = Flat(),
    };

    sealed record Values(
        string Paper, string Sheet, string Ink, string Ink2, string Ink3, string Rule,
        string Petrol, string Petrol2, string OnPetrol, string Wash, string OnInk);

    static T Fill<T>(T palette, Values v) where T : Palette
    {
        palette.Background = palette.AppbarBackground = palette.DrawerBackground = v.Paper;
        palette.Surface = v.Sheet;
        palette.TextPrimary = palette.AppbarText = palette.DrawerText = palette.DrawerIcon = palette.Black = v.Ink;
        palette.TextSecondary = palette.ActionDefault = v.Ink2;
        palette.TextDisabled = palette.ActionDisabled = palette.LinesInputs = v.Ink3;
        palette.Primary = v.Petrol;
        palette.PrimaryDarken = palette.PrimaryLighten = v.Petrol2;
        palette.PrimaryContrastText = v.OnPetrol;
        // No component brings a colour of its own: late, failed and new are told by weight, shape and words.
        palette.Secondary = palette.Tertiary = palette.Dark = palette.Info = palette.Success = palette.Warning = palette.Error = v.Ink;
        palette.SecondaryContrastText = palette.TertiaryContrastText = palette.DarkContrastText = palette.InfoContrastText =
            palette.SuccessContrastText = palette.WarningContrastText = palette.ErrorContrastText = v.OnInk;
        palette.LinesDefault = palette.TableLines = palette.Divider = palette.DividerLight = v.Rule;
        palette.TableHover = v.Wash;
        return palette;
    }

    static Typography Letters() => new()
    {
        Default = new DefaultTypography { FontFamily = Font, FontSize = ".875rem", FontWeight = "400", LineHeight = "1.43", LetterSpacing = "normal" },
        Body1 = new Body1Typography { FontFamily = Font, FontSize = ".875rem", LineHeight = "1.43", LetterSpacing = "normal" },
        Body2 = new Body2Typography { FontFamily = Font, FontSize = ".875rem", LineHeight = "1.43", LetterSpacing = "normal" },
        H4 = new H4Typography { FontFamily = Font, FontSize = "1.625rem", FontWeight = "750", LineHeight = "1.23", LetterSpacing = "-.01em" },
        H5 = new H5Typography { FontFamily = Font, FontSize = "1.25rem", FontWeight = "750", LineHeight = "1.3", LetterSpacing = "normal" },
        H6 = new H6Typography { FontFamily = Font, FontSize = "1rem", FontWeight = "750", LineHeight = "1.5", LetterSpacing = "normal" },
        Button = new ButtonTypography { FontFamily = Font, FontSize = ".875rem", FontWeight = "600", LetterSpacing = "normal", TextTransform = "none" },
        Caption = new CaptionTypography { FontFamily = Font, FontSize = ".75rem", LineHeight = "1.33", LetterSpacing = "normal" },
    };

    // Nothing casts a shadow but what lies on top: menus use 8, dialogs 24.
    static Shadow Flat()
    {
        var flat = Enumerable.Repeat("none", new Shadow().Elevation.Length).ToArray();
        flat[8] = flat[24] = "var(--lift-1)";
        return new Shadow { Elevation = flat };
    }
}

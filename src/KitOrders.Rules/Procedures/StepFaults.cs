using System.Globalization;

namespace KitOrders.Rules.Procedures;

/// <summary>One value of a step that cannot be kept, whatever else it says.</summary>
public sealed record StepFault(string Field, string Sentence);

/// <summary>
/// What no draft can hold: texts too long, numbers that cannot be. What is merely missing or unwise is no fault; a draft may lack
/// anything, and <see cref="ReleaseChecks"/> speak when it is released.
/// </summary>
public static class StepFaults
{
    public const int TextMaxLength = 2000;
    public const int CautionMaxLength = 500;
    public const int JointMaxLength = 200;
    public const int UnitMaxLength = 20;
    public const int ToolMaxLength = 100;
    public const int DocumentMaxLength = 200;
    public const int EditionMaxLength = 60;
    public const int PageMaxLength = 60;

    const int MostBolts = 200;
    const int MostPasses = 20;
    const decimal Largest = 99_999_999_999_999m;

    public static IReadOnlyList<StepFault> Of(StepDraft step) =>
    [
        .. new[]
        {
            Long("text", step.Text, TextMaxLength), Long("hazard", step.Hazard, CautionMaxLength), Long("consequence", step.Consequence, CautionMaxLength),
            Long("avoid", step.Avoid, CautionMaxLength), Long("joint", step.Joint, JointMaxLength), Long("unit", step.Unit, UnitMaxLength),
            Long("tool", step.Tool, ToolMaxLength), Long("document", step.Document, DocumentMaxLength), Long("edition", step.Edition, EditionMaxLength),
            Long("page", step.Page, PageMaxLength),
            Whole("bolts", step.Bolts, MostBolts), Whole("passes", step.Passes, MostPasses),
            Number("target", step.Target), Number("low", step.Low), Number("high", step.High), Number("minutes", step.Minutes),
            step.Minutes < 0 ? new StepFault("minutes", "Minutes cannot be below zero.") : null,
            step.TolerancePct is < 0 or >= 100 ? new StepFault("tolerancePct", "The tolerance must be from 0 to below 100 percent.") : Number("tolerancePct", step.TolerancePct),
            step.Pictures.Count > StepPicture.MostOfAStep ? new StepFault("pictures", $"A step shows at most {StepPicture.MostOfAStep} pictures. Take one away, or make two steps of it.") : null,
        }.OfType<StepFault>(),
        .. step.Pictures.SelectMany(OfPicture),
    ];

    static IEnumerable<StepFault> OfPicture(StepPicture picture)
    {
        if (!StepPicture.IsDigest(picture.Sha256))
            yield return new StepFault("pictures", "A picture is named by the SHA-256 of its file.");
        if (string.IsNullOrWhiteSpace(picture.Caption))
            yield return new StepFault("pictures", "A picture needs a caption: it is what is read where the picture cannot be seen.");
        if (picture.Caption.Length > StepPicture.CaptionMaxLength)
            yield return new StepFault("pictures", $"A caption has at most {StepPicture.CaptionMaxLength} characters.");
    }

    static StepFault? Long(string field, string? text, int most) => text?.Length > most
        ? new StepFault(field, string.Create(CultureInfo.InvariantCulture, $"This is {text.Length:#,##0} characters long; {most:#,##0} can be kept. Shorten it.")) : null;

    static StepFault? Whole(string field, int? value, int most) => value < 1 || value > most ? new StepFault(field, $"Give a whole number from 1 to {most}.") : null;

    static StepFault? Number(string field, decimal? value) => value is { } v && Math.Abs(v) > Largest ? new StepFault(field, "The number is larger than can be kept. Look at it again.") : null;
}

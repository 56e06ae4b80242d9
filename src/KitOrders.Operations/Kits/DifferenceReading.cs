using System.Globalization;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

public enum ChangeKind
{
    New,
    Changed,
    Out,
}

/// <summary>One thing that two revisions say differently.</summary>
/// <param name="Line">Number of the line in the newer revision, of one taken out in the older; null where a pump model is meant.</param>
/// <param name="Part">The part, or the model.</param>
/// <param name="Field">"quantity", "spares kept", "converts to".</param>
/// <param name="Was">In words; null: not there.</param>
public sealed record DifferenceRow(ChangeKind Kind, int? Line, string Part, string Description, string Field, string? Was, string? Now);

/// <param name="Same">Lines that are as they were.</param>
public sealed record DifferenceView(int Was, int Now, IReadOnlyList<DifferenceRow> Rows, int New, int Changed, int Out, int Same)
{
    /// <summary>By line of the newer revision, for the margin: "was 1, spares were all".</summary>
    public required IReadOnlyDictionary<int, string> Since { get; init; }
}

/// <summary>Two revisions side by side, in words.</summary>
internal sealed class DifferenceReading
{
    readonly Dictionary<PartId, (string Number, string Description)> parts;
    readonly Dictionary<PumpModelId, (string Code, string? Description)> models;

    DifferenceReading(Dictionary<PartId, (string, string)> parts, Dictionary<PumpModelId, (string, string?)> models)
    {
        this.parts = parts;
        this.models = models;
    }

    public static async Task<DifferenceView> Of(KitOrdersDb db, KitRevision was, KitRevision now, CancellationToken ct)
    {
        var ids = was.Lines.Concat(now.Lines).Select(l => l.PartId).Distinct().ToList();
        var fits = was.Fits.Concat(now.Fits).ToList();
        var modelIds = fits.Select(f => f.ModelId).Concat(fits.Select(f => f.ConvertsToId).OfType<PumpModelId>()).Distinct().ToList();
        var reading = new DifferenceReading(
            (await db.Parts.Where(p => ids.Contains(p.Id)).Select(p => new { p.Id, p.Number, p.Description }).ToListAsync(ct)).ToDictionary(p => p.Id, p => (p.Number, p.Description)),
            (await db.PumpModels.Where(m => modelIds.Contains(m.Id)).Select(m => new { m.Id, m.Code, m.Description }).ToListAsync(ct)).ToDictionary(m => m.Id, m => (m.Code, m.Description)));
        return reading.View(was, now, KitDifference.Between(was, now));
    }

    DifferenceView View(KitRevision was, KitRevision now, KitDifference difference)
    {
        List<DifferenceRow> rows = [.. difference.Lines.SelectMany(Rows)];
        if (difference.BuildableChanged)
            rows.Insert(0, new DifferenceRow(ChangeKind.Changed, null, "", "The kit", "buildable", Flag(was.Buildable), Flag(now.Buildable)));
        rows.AddRange(difference.Fits.SelectMany(Rows));
        return new DifferenceView(was.Number, now.Number, rows, difference.Lines.Count(l => l.Was is null), difference.Lines.Count(l => l.Was is not null && l.Now is not null),
            difference.Lines.Count(l => l.Now is null), difference.Same)
        {
            Since = difference.Lines.Where(l => l.Now is not null).ToDictionary(l => l.Now!.Number, l => Since(l.Was, l.Fields)),
        };
    }

    IEnumerable<DifferenceRow> Rows(LineDifference line)
    {
        var (number, description) = parts[(line.Now ?? line.Was)!.PartId];
        if (line.Now is not { } now)
            return [new DifferenceRow(ChangeKind.Out, line.Was!.Number, number, description, "line", Whole(line.Was), null)];
        return line.Was is not { } was
            ? [new DifferenceRow(ChangeKind.New, now.Number, number, description, "line", null, Whole(now))]
            : line.Fields.Select(f => new DifferenceRow(ChangeKind.Changed, now.Number, number, description, Named(f), Said(f, was), Said(f, now)));
    }

    IEnumerable<DifferenceRow> Rows(FitDifference fit)
    {
        var (code, description) = models[fit.Model];
        if (fit.Now is not { } now)
            return [new DifferenceRow(ChangeKind.Out, null, code, description ?? "", "model", "fits", null)];
        return fit.Was is not { } was
            ? [new DifferenceRow(ChangeKind.New, null, code, description ?? "", "model", null, "fits")]
            : fit.Fields.Select(f => new DifferenceRow(ChangeKind.Changed, null, code, description ?? "", Named(f), Said(f, was), Said(f, now)));
    }

    string Since(KitLine? was, IReadOnlyList<LineField> fields) => was is null ? "new line" : string.Join(", ", fields.Select(f => f switch
    {
        LineField.Number => $"was line {was.Number}",
        LineField.Spares => $"spares were {Said(f, was)}",
        LineField.Wraps => $"wraps were {Said(f, was)}",
        _ => $"was {Said(f, was)}",
    }));

    static string Whole(KitLine line) => $"{Number(line.Quantity)}, {KitLineWords.Of(line.Source)}";

    string Said(LineField field, KitLine line) => field switch
    {
        LineField.Number => Number(line.Number),
        LineField.Part => parts[line.PartId].Number,
        LineField.Quantity => Number(line.Quantity),
        LineField.Source => KitLineWords.Of(line.Source),
        LineField.Spares => KitLineWords.Of(line.SparePolicy, line.RejectRate),
        LineField.Wraps => line.Wraps is { } wraps ? $"{Number(wraps)} for {string.Join(", ", line.WrapsFor.Order())}" : "none",
        _ => throw new ArgumentOutOfRangeException(nameof(field), field, null),
    };

    static string Named(LineField field) => field switch
    {
        LineField.Number => "line number",
        LineField.Spares => "spares kept",
        _ => field.ToString().ToLowerInvariant(),
    };

    string Said(FitField field, KitFit fit) => field switch
    {
        FitField.ConvertsTo => fit.ConvertsToId is { } to ? models[to].Code : "none",
        FitField.SensingRod => fit.NeedsSensingRod ? "needed" : "not needed",
        FitField.Ports => fit.Ports ?? "none",
        FitField.Supply => fit.SupplyKind is { } kind ? Orders.SupplyWords.Of(kind) : "none",
        FitField.Volts => fit.Volts is { } volts ? $"{Number(volts)} V" : "none",
        FitField.Tolerance => fit.VoltsTolerancePct is { } tolerance ? $"±{Number(tolerance)} %" : "none",
        FitField.Amps => fit.Amps is { } amps ? $"{Number(amps)} A" : "none",
        FitField.Marking => fit.ExMarking ?? "none",
        FitField.Materials => List(fit.Materials),
        FitField.Once => fit.Once ? "once only" : "any number of times",
        FitField.Requires => List(fit.RequiresKits),
        FitField.Excludes => List(fit.ExcludesKits),
        _ => throw new ArgumentOutOfRangeException(nameof(field), field, null),
    };

    static string Named(FitField field) => field switch
    {
        FitField.ConvertsTo => "converts to",
        FitField.SensingRod => "sensing rod",
        FitField.Once => "how often",
        FitField.Requires => "needs before it",
        _ => field.ToString().ToLowerInvariant(),
    };

    static string Flag(bool flag) => flag ? "yes" : "no";

    static string List(List<string> list) => list.Count == 0 ? "none" : string.Join(", ", list);

    static string Number(decimal number) => number.ToString("0.####", CultureInfo.InvariantCulture);
}

/// <summary>What two revisions of a kit say differently.</summary>
public sealed class KitDifferences(Desk desk)
{
    public Task<Rules.Outcome<DifferenceView>> Between(string kit, int was, int now, CancellationToken ct) => desk.Read<Rules.Outcome<DifferenceView>>(async reading =>
    {
        var revisions = await reading.Db.KitRevisions.Include(r => r.Lines).Include(r => r.Fits).AsSplitQuery()
            .Where(r => reading.Db.Parts.Any(p => p.Id == r.PartId && p.Number == kit) && (r.Number == was || r.Number == now)).ToListAsync(ct);
        if (revisions.Find(r => r.Number == was) is not { } first || revisions.Find(r => r.Number == now) is not { } second)
            return Rules.Refusal.NotFound("revision-unknown", $"Kit {kit} has not both revisions {was} and {now}.");
        return await DifferenceReading.Of(reading.Db, first, second, ct);
    }, ct);
}

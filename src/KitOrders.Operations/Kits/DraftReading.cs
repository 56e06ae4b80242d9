using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

/// <summary>From what was typed to a revision and back. What cannot be kept at all is refused field by field, all at once.</summary>
internal sealed class DraftReading
{
    const int LongestText = 60;

    readonly Dictionary<string, string[]> errors = [];

    /// <summary>
    /// A revision that says what the content says, not kept anywhere. Refusal: <c>draft-values</c>, with a sentence for every
    /// field that cannot be kept (<c>lines[2].part</c>, <c>fits[0].ports</c>, by their places).
    /// </summary>
    public static async Task<Outcome<KitRevision>> Read(KitOrdersDb db, PartId kit, int number, DraftContent content, CancellationToken ct)
    {
        if (content.Lines.Count > DraftContent.MostLines || content.Fits.Count > DraftContent.MostFits)
            return Refusal.Invalid("draft-too-long", $"A kit has at most {DraftContent.MostLines} lines and {DraftContent.MostFits} models. Make assemblies of what belongs together.");
        var numbers = content.Lines.Select(l => l.Part).Concat(content.Fits.SelectMany(f => f.RequiresKits.Concat(f.ExcludesKits))).Distinct().ToList();
        var parts = await db.Parts.Where(p => numbers.Contains(p.Number)).Select(p => new { p.Number, p.Id }).ToDictionaryAsync(p => p.Number, p => p.Id, ct);
        var codes = content.Fits.Select(f => f.Model).Concat(content.Fits.Select(f => f.ConvertsTo).OfType<string>()).Distinct().ToList();
        var models = await db.PumpModels.Where(m => codes.Contains(m.Code)).Select(m => new { m.Code, m.Id }).ToDictionaryAsync(m => m.Code, m => m.Id, ct);
        var reading = new DraftReading();
        var revision = new KitRevision { PartId = kit, Number = number, Buildable = content.Buildable };
        for (var i = 0; i < content.Lines.Count; i++)
            revision.Lines.Add(reading.Line(content.Lines, i, parts));
        for (var i = 0; i < content.Fits.Count; i++)
            revision.Fits.Add(reading.Fit(content.Fits, i, models, parts.Keys));
        return reading.errors.Count == 0 ? revision : reading.Refused();
    }

    public static async Task<DraftContent> ContentOf(KitOrdersDb db, KitRevision revision, CancellationToken ct)
    {
        var ids = revision.Lines.Select(l => l.PartId).Distinct().ToList();
        var parts = await db.Parts.Where(p => ids.Contains(p.Id)).Select(p => new { p.Id, p.Number }).ToDictionaryAsync(p => p.Id, p => p.Number, ct);
        var models = await db.PumpModels.Select(m => new { m.Id, m.Code }).ToDictionaryAsync(m => m.Id, m => m.Code, ct);
        return new DraftContent(revision.Buildable,
            [.. revision.Lines.OrderBy(l => l.Number).Select(l => new DraftLine(l.Number, parts[l.PartId], l.Quantity, l.Source)
            {
                SparePolicy = l.SparePolicy, RejectRate = l.RejectRate, Wraps = l.Wraps, WrapsFor = l.WrapsFor,
            })],
            [.. revision.Fits.OrderBy(f => models[f.ModelId], StringComparer.Ordinal).Select(f => new DraftFit(models[f.ModelId])
            {
                ConvertsTo = f.ConvertsToId is { } to ? models[to] : null, NeedsSensingRod = f.NeedsSensingRod, Ports = f.Ports, SupplyKind = f.SupplyKind,
                Volts = f.Volts, VoltsTolerancePct = f.VoltsTolerancePct, Amps = f.Amps, ExMarking = f.ExMarking, Materials = f.Materials, Once = f.Once,
                RequiresKits = f.RequiresKits, ExcludesKits = f.ExcludesKits,
            })]);
    }

    KitLine Line(IReadOnlyList<DraftLine> lines, int i, Dictionary<string, PartId> parts)
    {
        var (line, at) = (lines[i], $"lines[{i}]");
        if (line.Number is < 1 or > DraftContent.LongestNumber)
            Wrong($"{at}.number", $"The number of a line lies between 1 and {DraftContent.LongestNumber}.");
        else if (lines.Take(i).Any(l => l.Number == line.Number))
            Wrong($"{at}.number", $"Line {line.Number} stands above already. Number each line once.");
        if (!parts.TryGetValue(line.Part, out var part))
            Wrong($"{at}.part", line.Part.Length == 0 ? $"Line {line.Number} names no part. Choose one, or take the line out."
                : $"Line {line.Number}: there is no part {Cut(line.Part)}. Look it up by its words, or import it first.");
        if (line.Quantity <= 0)
            Wrong($"{at}.quantity", $"Line {line.Number}: the quantity must be above zero. To take the part out of the kit, take out the line.");
        Amount($"{at}.quantity", line.Quantity, Explosion.Largest);
        Within($"{at}.rejectRate", line.RejectRate, 0, 1, "The reject rate is a share from 0 to 1, such as 0.09");
        Amount($"{at}.wraps", line.Wraps, 1_000);
        if (line.Wraps <= 0)
            Wrong($"{at}.wraps", $"Line {line.Number}: wraps must be above zero; leave them empty where nothing is wrapped.");
        if (line.WrapsFor.Any(n => n is < 1 or > DraftContent.LongestNumber) || line.WrapsFor.Count > DraftContent.MostLines)
            Wrong($"{at}.wrapsFor", $"Line {line.Number}: wraps serve lines of this kit, named by their numbers.");
        return new KitLine
        {
            Number = line.Number, PartId = part, Quantity = line.Quantity, Source = line.Source, SparePolicy = line.SparePolicy,
            RejectRate = line.RejectRate, Wraps = line.Wraps, WrapsFor = [.. line.WrapsFor.Distinct()],
        };
    }

    KitFit Fit(IReadOnlyList<DraftFit> fits, int i, Dictionary<string, PumpModelId> models, IEnumerable<string> kits)
    {
        var (fit, at) = (fits[i], $"fits[{i}]");
        if (!models.TryGetValue(fit.Model, out var model))
            Wrong($"{at}.model", fit.Model.Length == 0 ? "Choose the pump model, or take the entry out." : $"There is no pump model {Cut(fit.Model)}.");
        else if (fits.Take(i).Any(f => f.Model == fit.Model))
            Wrong($"{at}.model", $"{fit.Model} stands above already. Keep one entry for each model.");
        if (fit.ConvertsTo is { } to && !models.ContainsKey(to))
            Wrong($"{at}.convertsTo", $"There is no pump model {Cut(to)}.");
        if (Text($"{at}.ports", fit.Ports, 500) && PortList.Parse(fit.Ports).Refusal is { } ports)
            Wrong($"{at}.ports", ports.Sentence);
        if (Text($"{at}.exMarking", fit.ExMarking, 200) && fit.ExMarking is { } printed && ExMarking.Parse(printed).Refusal is { } marking)
            Wrong($"{at}.exMarking", marking.Sentence);
        Amount($"{at}.volts", fit.Volts, 100_000);
        if (fit.Volts <= 0)
            Wrong($"{at}.volts", "Volts must be above zero; leave them empty where no electricity is needed.");
        Within($"{at}.voltsTolerancePct", fit.VoltsTolerancePct, 0, 100, "The tolerance lies between 0 and 100 %");
        Within($"{at}.amps", fit.Amps, 0, 100_000, "The current is not below zero");
        foreach (var (field, list) in new[] { ("materials", fit.Materials), ("requiresKits", fit.RequiresKits), ("excludesKits", fit.ExcludesKits) })
            if (list.Count > 100 || list.Any(t => t.Length > LongestText))
                Wrong($"{at}.{field}", $"At most 100 of at most {LongestText} characters each, joined by +.");
        foreach (var (field, list) in new[] { ("requiresKits", fit.RequiresKits), ("excludesKits", fit.ExcludesKits) })
            if (list.FirstOrDefault(k => !kits.Contains(k)) is { } unknown)
                Wrong($"{at}.{field}", $"There is no kit {Cut(unknown)}. Correct its number, or import it with parts first.");
        return new KitFit
        {
            ModelId = model, ConvertsToId = fit.ConvertsTo is { } target && models.TryGetValue(target, out var id) ? id : null, NeedsSensingRod = fit.NeedsSensingRod,
            Ports = fit.Ports, SupplyKind = fit.SupplyKind, Volts = fit.Volts, VoltsTolerancePct = fit.VoltsTolerancePct, Amps = fit.Amps, ExMarking = fit.ExMarking,
            Materials = [.. fit.Materials], Once = fit.Once, RequiresKits = [.. fit.RequiresKits], ExcludesKits = [.. fit.ExcludesKits],
        };
    }

    void Amount(string field, decimal? value, decimal most)
    {
        if (value is { } number && (number > most || decimal.Round(number, 4) != number))
            Wrong(field, number > most ? $"More than {most:0} cannot be meant here. Look at it again." : "Give at most four decimals.");
    }

    void Within(string field, decimal? value, decimal least, decimal most, string rule)
    {
        if (value is { } number && (number < least || number > most || decimal.Round(number, 4) != number))
            Wrong(field, $"{rule}, with at most four decimals.");
    }

    bool Text(string field, string? text, int most)
    {
        if (text?.Length > most)
            Wrong(field, $"At most {most} characters can be kept.");
        return text?.Length <= most;
    }

    void Wrong(string field, string sentence) => errors.TryAdd(field, [sentence]);

    Refusal Refused()
    {
        var sentences = errors.Values.Select(e => e[0]).ToList();
        var more = sentences.Count == 1 ? "" : $" {sentences.Count - 1} more {(sentences.Count == 2 ? "field stands" : "fields stand")} against it.";
        return Refusal.Invalid("draft-values", sentences[0] + more) with { Errors = errors };
    }

    static string Cut(string text) => text.Length <= LongestText ? text : text[..LongestText] + "…";
}

using System.Globalization;
using KitOrders.Operations.Kits;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Pumps;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

/// <summary>A line as it is typed; what cannot be read stays as it was typed.</summary>
public sealed class TypedLine
{
    public Guid Key { get; } = Guid.NewGuid();
    public int Number { get; set; }
    public string Part { get; set; } = "";
    public string Quantity { get; set; } = "1";
    public LineSource Source { get; set; }
    public SparePolicy Policy { get; set; }
    public string Rate { get; set; } = "";
    public string Wraps { get; set; } = "";
    public string WrapsFor { get; set; } = "";

    /// <summary>The part of that number; null while there is none.</summary>
    public DraftPart? Known { get; set; }

    /// <summary>The next key typed is meant for this line.</summary>
    public bool TakesKeys { get; set; }
}

/// <summary>What is called for on one pump model, as it is typed.</summary>
public sealed class TypedFit
{
    public Guid Key { get; } = Guid.NewGuid();
    public string Model { get; set; } = "";
    public string ConvertsTo { get; set; } = "";
    public bool Rod { get; set; }
    public string Ports { get; set; } = "";
    public SupplyKind? Supply { get; set; }
    public string Volts { get; set; } = "";
    public string Tolerance { get; set; } = "";
    public string Amps { get; set; } = "";
    public string Marking { get; set; } = "";
    public string Materials { get; set; } = "";
    public bool Once { get; set; }
    public string Requires { get; set; } = "";
    public string Excludes { get; set; } = "";

    /// <summary>The same for a model that is still to be chosen.</summary>
    public TypedFit Copy() => new()
    {
        Rod = Rod, Ports = Ports, Supply = Supply, Volts = Volts, Tolerance = Tolerance, Amps = Amps, Marking = Marking, Materials = Materials, Once = Once,
        Requires = Requires, Excludes = Excludes,
    };
}

/// <summary>The draft on the desk: lines and models as they are typed, in the order of their numbers.</summary>
public sealed class KitSheet
{
    string kept = "";

    public List<TypedLine> Lines { get; } = [];

    public List<TypedFit> Fits { get; } = [];

    public bool Buildable { get; set; }

    /// <summary>Something is typed that is not kept.</summary>
    public bool Changed => Written() != kept;

    public static KitSheet Of(DraftContent content, IReadOnlyDictionary<string, DraftPart> parts)
    {
        var sheet = new KitSheet { Buildable = content.Buildable };
        sheet.Lines.AddRange(content.Lines.Select(l => new TypedLine
        {
            Number = l.Number, Part = l.Part, Quantity = Text(l.Quantity), Source = l.Source, Policy = l.SparePolicy, Rate = Text(l.RejectRate),
            Wraps = Text(l.Wraps), WrapsFor = string.Join(" + ", l.WrapsFor), Known = parts.GetValueOrDefault(l.Part),
        }));
        sheet.Fits.AddRange(content.Fits.Select(f => new TypedFit
        {
            Model = f.Model, ConvertsTo = f.ConvertsTo ?? "", Rod = f.NeedsSensingRod, Ports = f.Ports ?? "", Supply = f.SupplyKind, Volts = Text(f.Volts),
            Tolerance = Text(f.VoltsTolerancePct), Amps = Text(f.Amps), Marking = f.ExMarking ?? "", Materials = string.Join(" + ", f.Materials), Once = f.Once,
            Requires = string.Join(" + ", f.RequiresKits), Excludes = string.Join(" + ", f.ExcludesKits),
        }));
        sheet.Kept();
        return sheet;
    }

    /// <summary>What is typed now is what is kept.</summary>
    public void Kept() => kept = Written();

    public TypedLine Add()
    {
        var line = new TypedLine { Number = Lines.Count == 0 ? 1 : Lines[^1].Number + 1 };
        Lines.Add(line);
        return line;
    }

    /// <summary>Takes a line out. The numbers of the others stay, so that what wraps them still says so.</summary>
    public void Remove(TypedLine line) => Lines.Remove(line);

    /// <summary>Changes places with the line above (-1) or below (1); wraps go on serving the same lines.</summary>
    public bool Move(TypedLine line, int by)
    {
        var (at, to) = (Lines.IndexOf(line), Lines.IndexOf(line) + by);
        if (at < 0 || to < 0 || to >= Lines.Count)
            return false;
        var other = Lines[to];
        var numbers = new Dictionary<int, int> { [line.Number] = other.Number, [other.Number] = line.Number };
        (line.Number, other.Number) = (other.Number, line.Number);
        (Lines[at], Lines[to]) = (other, line);
        Serve(numbers);
        return true;
    }

    /// <summary>Numbers the lines 1, 2, 3 … as they stand.</summary>
    public void Renumber()
    {
        var numbers = Lines.Select((l, i) => (l.Number, New: i + 1)).DistinctBy(l => l.Number).ToDictionary(l => l.Number, l => l.New);
        for (var i = 0; i < Lines.Count; i++)
            Lines[i].Number = i + 1;
        Serve(numbers);
    }

    public bool InOrder => Lines.Select((l, i) => l.Number == i + 1).All(same => same);

    /// <summary>
    /// What is typed, read. Refusal: <c>draft-values</c> with a sentence for every field that cannot be read, by the same names
    /// as those that could not be kept.
    /// </summary>
    public Outcome<DraftContent> Read()
    {
        var errors = new Dictionary<string, string[]>();
        var lines = Lines.Select((line, i) => Read(line, $"lines[{i}]", errors)).ToList();
        var fits = Fits.Select((fit, i) => Read(fit, $"fits[{i}]", errors)).ToList();
        return errors.Count == 0 ? new DraftContent(Buildable, lines, fits)
            : Refusal.Invalid("draft-values", $"{Figures.Of(errors.Count, "field")} cannot be read: {errors.Values.First()[0]}") with { Errors = errors };
    }

    static DraftLine Read(TypedLine line, string at, Dictionary<string, string[]> errors)
    {
        var kept = line.Source == LineSource.CarriedOver;
        var supply = line.Source == LineSource.ShopSupply;
        var wraps = supply ? Maybe(line.Wraps, $"{at}.wraps", errors) : null;
        return new DraftLine(line.Number, line.Part.Trim(), wraps is not null && line.Quantity.Trim().Length == 0 ? 1 : Amount(line.Quantity, $"{at}.quantity", errors) ?? 0, line.Source)
        {
            SparePolicy = kept ? line.Policy : SparePolicy.None,
            RejectRate = kept && line.Policy == SparePolicy.ByRate ? Maybe(line.Rate, $"{at}.rejectRate", errors) : null,
            Wraps = wraps,
            WrapsFor = wraps is null ? [] : Numbers(line.WrapsFor, $"{at}.wrapsFor", errors),
        };
    }

    static DraftFit Read(TypedFit fit, string at, Dictionary<string, string[]> errors) => new(fit.Model)
    {
        ConvertsTo = Words(fit.ConvertsTo), NeedsSensingRod = fit.Rod, Ports = Words(fit.Ports), SupplyKind = fit.Supply, Volts = Maybe(fit.Volts, $"{at}.volts", errors),
        VoltsTolerancePct = Maybe(fit.Tolerance, $"{at}.voltsTolerancePct", errors), Amps = Maybe(fit.Amps, $"{at}.amps", errors), ExMarking = Words(fit.Marking),
        Materials = List(fit.Materials), Once = fit.Once, RequiresKits = List(fit.Requires), ExcludesKits = List(fit.Excludes),
    };

    static decimal? Amount(string text, string field, Dictionary<string, string[]> errors)
    {
        var read = Amounts.Read(text, field);
        if (read.Refusal is { } refusal)
            errors[field] = [refusal.Sentence];
        return read.IsDone ? read.Value : null;
    }

    static decimal? Maybe(string text, string field, Dictionary<string, string[]> errors) => string.IsNullOrWhiteSpace(text) ? null : Amount(text, field, errors);

    static List<int> Numbers(string text, string field, Dictionary<string, string[]> errors)
    {
        var numbers = new List<int>();
        foreach (var word in text.Split(['+', ',', ';', ' '], StringSplitOptions.RemoveEmptyEntries))
        {
            if (int.TryParse(word, NumberStyles.None, CultureInfo.InvariantCulture, out var number))
                numbers.Add(number);
            else
                errors[field] = [$"\"{word}\" is no line number. Name lines of this kit, such as 5 + 8."];
        }

        return numbers;
    }

    void Serve(Dictionary<int, int> numbers)
    {
        foreach (var line in Lines.Where(l => l.WrapsFor.Length > 0))
        {
            var errors = new Dictionary<string, string[]>();
            var served = Numbers(line.WrapsFor, "", errors);
            if (errors.Count == 0)
                line.WrapsFor = string.Join(" + ", served.Select(n => numbers.GetValueOrDefault(n, n)));
        }
    }

    static List<string> List(string text) => [.. text.Split('+', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Distinct()];

    static string? Words(string text) => string.IsNullOrWhiteSpace(text) ? null : text.Trim();

    static string Text(decimal? number) => number?.ToString("0.######", CultureInfo.InvariantCulture) ?? "";

    string Written() => string.Join('\n',
    [
        $"{Buildable}",
        .. Lines.Select(l => string.Join('\t', l.Number, l.Part, l.Quantity, l.Source, l.Policy, l.Rate, l.Wraps, l.WrapsFor)),
        .. Fits.Select(f => string.Join('\t', f.Model, f.ConvertsTo, f.Rod, f.Ports, f.Supply, f.Volts, f.Tolerance, f.Amps, f.Marking, f.Materials, f.Once, f.Requires, f.Excludes)),
    ]);
}

using System.Globalization;
using System.Text.RegularExpressions;
using KitOrders.Rules;

namespace KitOrders.Operations;

/// <summary>
/// One row with readers by kind of cell. A cell that cannot be taken is noted with row, column and a sentence, and the
/// reader answers a harmless value so that the rest of the row is read too. <c>kept</c> is what stands recorded: it is
/// answered when the file does not have the column. An empty cell is "not recorded", null.
/// </summary>
internal sealed partial class CsvRow(CsvTable table, int number, string[] cells)
{
    /// <summary>Highest quantity or amount that is kept: numeric(18,4).</summary>
    const decimal Most = 99_999_999_999_999.9999m;

    public int Number => number;

    /// <summary>The cell without blanks around it; null when it is empty or the file does not have the column.</summary>
    public string? this[string column] =>
        table.IndexOf(column) is { } index && cells[index].Trim() is { Length: > 0 } text ? FormulaText.Unguarded(text) : null;

    public bool Has(string column) => table.Has(column);

    /// <summary>Whether something of the row could not be taken.</summary>
    public bool IsBad { get; private set; }

    public void Refuse(string column, string message)
    {
        IsBad = true;
        table.Errors.Add(number, column, message);
    }

    public void RefuseUnsafeCells(string[] names)
    {
        for (var i = 0; i < cells.Length; i++)
        {
            var cell = cells[i];
            if (cell.Length == 0)
                continue;
            if (cell.Any(c => char.IsControl(c) && c is not ('\n' or '\r')))
                Refuse(names[i], "The cell holds a control character. Take it out.");
            if (FormulaText.Runs(cell))
                Refuse(names[i], $"\"{Cut(cell)}\" would run as a formula when the file is opened in a spreadsheet. Begin it with another character.");
        }
    }

    public string? Text(string column, int max, string? kept = null, bool lines = false)
    {
        if (!Has(column))
            return kept;
        if (this[column] is not { } text)
            return null;
        text = text.Replace("\r\n", "\n", StringComparison.Ordinal);
        if (!lines && text.Contains('\n', StringComparison.Ordinal))
            Refuse(column, "The cell holds a line break. Write it in one line.");
        if (text.Length > max)
            Refuse(column, $"The cell has {text.Length} characters; at most {max} are kept. Shorten it.");
        return text;
    }

    public string NeedText(string column, int max, bool lines = false) => Text(column, max, null, lines) ?? Missing(column, "");

    /// <summary>A number of a part, kit or job: letters, digits, "-", "." and "/".</summary>
    public string NeedIdentifier(string column, int max = 60)
    {
        var text = NeedText(column, max);
        if (text.Length > 0 && !Identifier().IsMatch(text))
            Refuse(column, $"\"{Cut(text)}\" cannot be a number here. Use letters A to Z, digits, \"-\", \".\" and \"/\" only.");
        return text;
    }

    public decimal? Amount(string column, Bounds bounds, decimal? kept = null)
    {
        if (!Has(column))
            return kept;
        return this[column] is { } text ? Decimal(column, text, bounds) : null;
    }

    public decimal NeedAmount(string column, Bounds bounds) =>
        this[column] is { } text ? Decimal(column, text, bounds) ?? 0 : Missing(column, 0m);

    decimal? Decimal(string column, string text, Bounds bounds)
    {
        if (!decimal.TryParse(text, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var value))
        {
            Refuse(column, $"\"{Cut(text)}\" is not a number. Write digits with a decimal point and nothing between thousands, such as 1250.5.");
            return null;
        }
        if (decimal.Round(value, 4) != value)
            Refuse(column, $"{text} has more than 4 decimals. Round it.");
        else if (Math.Abs(value) > Most || !bounds.Hold(value))
            Refuse(column, $"{text} cannot be taken: {column} must be {bounds.Words}.");
        else
            return value;
        return null;
    }

    public int? Whole(string column, int low, int high, int? kept = null)
    {
        if (!Has(column))
            return kept;
        if (this[column] is not { } text)
            return null;
        if (int.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var value) && value >= low && value <= high)
            return value;
        Refuse(column, $"\"{Cut(text)}\" cannot be taken: {column} must be a whole number from {low} to {high}.");
        return null;
    }

    public int NeedWhole(string column, int low, int high)
    {
        if (this[column] is null)
            return Missing(column, low);
        return Whole(column, low, high) ?? low;
    }

    public DateOnly? Date(string column, DateOnly? kept = null)
    {
        if (!Has(column))
            return kept;
        if (this[column] is not { } text)
            return null;
        if (ReadDate(text, table.Today) is { } day)
            return day;
        Refuse(column, $"\"{Cut(text)}\" is not a date. Write 2026-03-12, today, today+14 or today-30.");
        return null;
    }

    public DateOnly NeedDate(string column) => this[column] is null ? Missing(column, table.Today) : Date(column) ?? table.Today;

    internal static DateOnly? ReadDate(string text, DateOnly today)
    {
        if (DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var day))
            return day.Year is >= 1900 and <= 2199 ? day : null;
        var match = Relative().Match(text);
        if (!match.Success)
            return null;
        return match.Groups["days"] is { Success: true } days ? today.AddDays(int.Parse(days.Value, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture)) : today;
    }

    public bool? Flag(string column, bool? kept = null)
    {
        if (!Has(column))
            return kept;
        switch (this[column]?.ToLowerInvariant())
        {
            case null: return null;
            case "yes": return true;
            case "no": return false;
            case var other:
                Refuse(column, $"\"{Cut(other)}\" cannot be taken: {column} must be yes or no.");
                return null;
        }
    }

    public T? Word<T>(string column, T? kept = null) where T : struct, Enum
    {
        if (!Has(column))
            return kept;
        if (this[column] is not { } text)
            return null;
        if (Rules.Word.TryRead<T>(text, out var value))
            return value;
        Refuse(column, $"\"{Cut(text)}\" cannot be taken: {column} must be {string.Join(", ", Rules.Word.All<T>())}.");
        return null;
    }

    public T NeedWord<T>(string column) where T : struct, Enum =>
        this[column] is null ? Missing(column, default(T)) : Word<T>(column) ?? default;

    /// <summary>Words joined by "+", each once.</summary>
    public List<string> List(string column, int max, List<string>? kept = null)
    {
        if (!Has(column))
            return kept ?? [];
        var words = (this[column] ?? "").Split('+', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries).Distinct(StringComparer.Ordinal).ToList();
        if (words.Any(w => w.Length > max || w.Contains('\n', StringComparison.Ordinal)))
            Refuse(column, $"Each name in {column} may have at most {max} characters, in one line. Join them by \"+\".");
        return words;
    }

    /// <summary>Looks up what another file must have brought before.</summary>
    public TId? Find<TId>(string column, IReadOnlyDictionary<string, TId> among, string what, string file) where TId : struct
    {
        if (this[column] is not { } text)
            return null;
        if (among.TryGetValue(text, out var id))
            return id;
        Refuse(column, $"There is no {what} {Cut(text)}. Import it with {file} first, or correct it here.");
        return null;
    }

    public TId Need<TId>(string column, IReadOnlyDictionary<string, TId> among, string what, string file) where TId : struct =>
        this[column] is null ? Missing(column, default(TId)) : Find(column, among, what, file) ?? default;

    /// <summary>Notes the sentence of a rule that cannot take the cell.</summary>
    public T? Take<T>(string column, Outcome<T> outcome)
    {
        if (outcome.IsDone)
            return outcome.Value;
        Refuse(column, outcome.Refusal!.Sentence);
        return default;
    }

    T Missing<T>(string column, T harmless)
    {
        Refuse(column, $"{column} is empty. It must be given.");
        return harmless;
    }

    static string Cut(string text) => text.Length <= 40 ? text : text[..40] + "…";

    [GeneratedRegex(@"^[A-Za-z0-9./-]+\z")]
    private static partial Regex Identifier();

    [GeneratedRegex(@"^today(?<days>[+-]\d{1,5})?\z")]
    private static partial Regex Relative();
}

/// <summary>What a number may be, with the words that say so.</summary>
internal sealed record Bounds(Func<decimal, bool> Hold, string Words)
{
    public static readonly Bounds Any = new(_ => true, "a number");
    public static readonly Bounds AboveZero = new(v => v > 0, "above zero");
    public static readonly Bounds NotNegative = new(v => v >= 0, "zero or more");

    public static Bounds Between(decimal low, decimal high) => new(v => v >= low && v <= high,
        string.Create(CultureInfo.InvariantCulture, $"from {low} to {high}"));
}

using System.Globalization;
using KitOrders.Operations.Workbooks;

namespace KitOrders.Operations;

/// <summary>The rows of a file as they stand, blank ones left out, the header first.</summary>
/// <param name="Sheet">The sheet of a workbook they come from, with the number each row has there.</param>
internal sealed record RawRows(List<string[]> Rows, string? Sheet = null, IReadOnlyList<int>? Numbers = null)
{
    public string? PlaceOf(int row, int? column) => Sheet is null || row >= Numbers!.Count ? null
        : column is { } letter ? $"{Sheet}!{CellText.Letters(letter)}{Numbers[row]}" : $"{Sheet}!{Numbers[row]}";

    /// <summary>What a person calls the row.</summary>
    public int NumberOf(int row) => Numbers?[row] ?? row + 1;
}

/// <summary>
/// The rows of an import file under a header that has been checked against the columns the file may have. Any column
/// order; a row that names a key twice, a cell that would run as a formula and a control character are refused here.
/// </summary>
internal sealed class CsvTable
{
    public const int MostRows = 150_000;

    /// <summary>How far down a header is looked for that should stand first.</summary>
    public const int HeaderSought = 10;

    readonly Dictionary<string, int> columns;

    CsvTable(Dictionary<string, int> columns, DateOnly today, ImportErrors errors)
    {
        this.columns = columns;
        Today = today;
        Errors = errors;
    }

    /// <summary>The plant's day, which the dates "today", "today+14" and "today-30" count from.</summary>
    public DateOnly Today { get; }

    public ImportErrors Errors { get; }

    public IReadOnlyList<CsvRow> Rows { get; private set; } = [];

    public bool Has(string column) => columns.ContainsKey(column);

    public int? IndexOf(string column) => columns.TryGetValue(column, out var index) ? index : null;

    /// <summary>The table, or null when the header cannot be taken and the rows mean nothing.</summary>
    public static CsvTable? Read(RawRows file, ImportSpec spec, DateOnly today, ImportErrors errors)
    {
        var raw = file.Rows;
        errors.Rows = Math.Max(0, raw.Count - 1);
        if (raw.Count == 0)
        {
            errors.Add(0, "", $"The file is empty. Its first row names the columns: {string.Join(", ", spec.Names)}.");
            return null;
        }
        if (raw.Count - 1 > MostRows)
        {
            errors.Add(0, "", string.Create(CultureInfo.InvariantCulture, $"The file has more than {MostRows:N0} rows. Split it."));
            return null;
        }
        if (HeaderBelow(file, spec, errors) || Header(raw[0], spec, errors) is not { } columns)
            return null;
        var table = new CsvTable(columns, today, errors);
        errors.PlaceOf = (row, column) => file.PlaceOf(row, table.IndexOf(column));
        var names = raw[0].Select(n => n.Trim()).ToArray();
        var rows = new List<CsvRow>(raw.Count - 1);
        for (var number = 1; number < raw.Count; number++)
        {
            if (raw[number].Length != names.Length)
                errors.Add(number, "", $"The row has {raw[number].Length} cells where the header has {names.Length}. A cell with a comma in it must stand in quotes.");
            else if (Array.TrueForAll(names, n => n.Length > 0) && raw[number].Zip(names).All(c => c.First.Trim() == c.Second))
                errors.Add(number, "", "The row names the columns again. One header row stands first; take this one out.");
            else
            {
                var row = new CsvRow(table, number, raw[number]);
                row.RefuseUnsafeCells(names);
                rows.Add(row);
            }
        }
        table.Rows = rows;
        table.RefuseDoubles(spec);
        return table;
    }

    /// <summary>Refuses a file with a title, or with a second header row, above the row that names the columns.</summary>
    static bool HeaderBelow(RawRows file, ImportSpec spec, ImportErrors errors)
    {
        if (IsHeader(file.Rows[0], spec))
            return false;
        var below = file.Rows.Take(HeaderSought).ToList().FindIndex(r => IsHeader(r, spec));
        if (below < 0)
            return false;
        errors.Add(0, "", $"The columns are named in row {file.NumberOf(below)}, below something else. One header row stands first; take out what is above it.", file.PlaceOf(below, null));
        return true;
    }

    internal static bool IsHeader(string[] row, ImportSpec spec)
    {
        var names = row.Select(n => n.Trim()).Where(n => n.Length > 0).ToHashSet();
        return names.Count > 0 && names.IsSupersetOf(spec.Needed) && names.IsSubsetOf(spec.Names);
    }

    static Dictionary<string, int>? Header(string[] header, ImportSpec spec, ImportErrors errors)
    {
        var known = $"{spec.File} has the columns {string.Join(", ", spec.Names)}.";
        var columns = new Dictionary<string, int>(StringComparer.Ordinal);
        var before = errors.Count;
        if (header is [var single] && spec.Names.Count > 1 && (single.Contains(';', StringComparison.Ordinal) || single.Contains('\t', StringComparison.Ordinal)))
        {
            errors.Add(0, "", "The cells are separated by semicolons or tabs. Save the file with commas between the cells.");
            return null;
        }
        for (var i = 0; i < header.Length; i++)
        {
            var name = header[i].Trim();
            if (!spec.Names.Contains(name))
                errors.Add(0, name, name.Length == 0 ? $"Column {i + 1} has no name. {known}" : $"There is no column {name}. {known}");
            else if (!columns.TryAdd(name, i))
                errors.Add(0, name, $"The column {name} stands there twice. Keep one.");
        }
        foreach (var needed in spec.Needed.Where(n => !columns.ContainsKey(n)))
            errors.Add(0, needed, $"The column {needed} is missing. It must be present.");
        return errors.Count == before ? columns : null;
    }

    void RefuseDoubles(ImportSpec spec)
    {
        if (spec.KeyColumns.Count == 0)
            return;
        var first = new Dictionary<string, int>(StringComparer.Ordinal);
        foreach (var row in Rows)
        {
            var key = spec.KeyColumns.Select(c => Plain(c, row[c] ?? "")).ToList();
            if (key.Contains(""))
                continue;
            if (!first.TryAdd(string.Join('\n', key), row.Number))
                row.Refuse(spec.KeyColumns[0], $"{string.Join(", ", spec.KeyColumns.Select((c, i) => $"{c} {key[i]}"))} stands in row {first[string.Join('\n', key)]} already. Name it once.");
        }

        // 01 and 1 are the same revision, line or step; as part numbers they differ.
        static string Plain(string column, string cell) =>
            column is "revision" or "line" or "step" && int.TryParse(cell, CultureInfo.InvariantCulture, out var whole)
                ? whole.ToString(CultureInfo.InvariantCulture) : cell;
    }
}

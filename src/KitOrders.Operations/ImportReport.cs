using System.Text.Json.Serialization;

namespace KitOrders.Operations;

/// <summary>What is wrong with a file. Data rows count from 1, below the header; row 0 is the file or its header.</summary>
/// <param name="Place">Where in a workbook, such as <c>parts!C7</c>; null in a file of comma-separated values.</param>
public sealed record ImportError(int Row, string Column, string Message, string? Place = null);

/// <summary>
/// What came of an import. With errors nothing was written; then, and after a dry run, <see cref="Written"/> is 0.
/// </summary>
/// <param name="Rows">Data rows of the file; blank lines do not count.</param>
public sealed record ImportReport(int Rows, int Written, IReadOnlyList<string> Warnings, IReadOnlyList<ImportError> Errors)
{
    /// <summary>The code under which the HTTP API answers a file that was refused.</summary>
    public const string RefusedCode = "import-refused";

    [JsonIgnore]
    public bool Refused => Errors.Count > 0;
}

/// <summary>How far an import has come.</summary>
public readonly record struct ImportProgress(int Done, int Rows);

/// <summary>Collects what is wrong, up to a number that a person can still work through.</summary>
internal sealed class ImportErrors
{
    public const int Kept = 1_000;

    readonly List<ImportError> kept = [];
    readonly HashSet<ImportError> seen = [];

    public int Count { get; private set; }

    /// <summary>Data rows of the file, known as soon as it can be told apart into rows.</summary>
    public int Rows { get; set; }

    /// <summary>Where a row and column stand in a workbook; null for a file that has no such places.</summary>
    public Func<int, string, string?>? PlaceOf { get; set; }

    public void Add(int row, string column, string message, string? place = null)
    {
        var error = new ImportError(row, column, message, place ?? PlaceOf?.Invoke(row, column));
        if (Count < Kept ? !seen.Add(error) : seen.Contains(error))
            return;
        if (Count++ < Kept)
            kept.Add(error);
    }

    /// <summary>In the order of the file.</summary>
    public IReadOnlyList<ImportError> List()
    {
        var list = kept.OrderBy(e => e.Row).ToList();
        if (Count > Kept)
            list.Add(new ImportError(0, "", $"{Count - Kept} more errors are not listed. Correct these first, then try again."));
        return list;
    }
}

using System.Collections;
using KitOrders.Rules;

namespace KitOrders.Operations;

/// <summary>What an export reads: the rows of a file, and for every column of the import what stands in it.</summary>
internal abstract class ExportRows
{
    public abstract IReadOnlyCollection<string> Columns { get; }

    /// <summary>The rows with their cells in the order of <paramref name="columns"/>.</summary>
    public abstract IAsyncEnumerable<object?[]> Read(Reading reading, IReadOnlyList<string> columns);

    /// <summary>Several words in one cell, as an import reads them.</summary>
    public static string? Joined<T>(IEnumerable<T> words) => string.Join('+', words) is { Length: > 0 } text ? text : null;

    public static string? Flag(bool? value) => value switch { true => "yes", false => "no", null => null };

    public static string? Word<T>(T? value) where T : struct, Enum => value is { } word ? Rules.Word.Of(word) : null;
}

/// <summary>As <see cref="ExportRows"/>, of rows of one kind. Cells are texts, whole numbers, decimals and days.</summary>
internal sealed class ExportRows<T>(Func<Reading, IAsyncEnumerable<T>> rows) : ExportRows, IEnumerable<string>
{
    readonly Dictionary<string, Func<T, object?>> cells = [];

    public override IReadOnlyCollection<string> Columns => cells.Keys;

    public void Add(string column, Func<T, object?> cell) => cells.Add(column, cell);

    public override async IAsyncEnumerable<object?[]> Read(Reading reading, IReadOnlyList<string> columns)
    {
        var inOrder = columns.Select(c => cells[c]).ToArray();
        await foreach (var row in rows(reading).WithCancellation(reading.Ct))
            yield return Array.ConvertAll(inOrder, cell => cell(row));
    }

    public IEnumerator<string> GetEnumerator() => cells.Keys.GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();
}

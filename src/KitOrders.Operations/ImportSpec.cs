using KitOrders.Rules.People;

namespace KitOrders.Operations;

/// <summary>One import file: its name, who may import it, its columns and what becomes of its rows.</summary>
/// <param name="Columns">All columns, separated by blanks; those marked * must be present.</param>
/// <param name="Key">The columns that together name a row; they may name it once only.</param>
internal sealed record ImportSpec(string File, Roles Allowed, string Columns, string Key, Func<ImportRun, Task> Run)
{
    public IReadOnlyList<string> Names { get; } = [.. Split(Columns).Select(c => c.TrimEnd('*'))];

    public IReadOnlyList<string> Needed { get; } = [.. Split(Columns).Where(c => c.EndsWith('*')).Select(c => c.TrimEnd('*'))];

    public IReadOnlyList<string> KeyColumns { get; } = Split(Key);

    static string[] Split(string text) => text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
}

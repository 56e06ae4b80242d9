using KitOrders.Rules.People;

namespace KitOrders.Operations;

/// <summary>One import file: its name, who may import it, its columns and what becomes of its rows.</summary>
/// <param name="Columns">All columns, separated by blanks; those marked * must be present.</param>
/// <param name="Key">The columns that together name a row; they may name it once only.</param>
/// <param name="Days">The columns that hold a day.</param>
/// <param name="Export">The same columns of what is recorded; null for a file that tells what happened.</param>
internal sealed record ImportSpec(string File, Roles Allowed, string Columns, string Key, Func<ImportRun, Task> Run, string Days = "", ExportRows? Export = null)
{
    /// <summary>Who may take the file out: whoever may bring it in, and who plans, stores and answers for what is in it.</summary>
    public Roles Readers { get; init; } = Allowed | Roles.Planner | Roles.Storeroom | Roles.Manager;

    public IReadOnlyList<string> Names { get; } = [.. Split(Columns).Select(c => c.TrimEnd('*'))];

    public IReadOnlyList<string> Needed { get; } = [.. Split(Columns).Where(c => c.EndsWith('*')).Select(c => c.TrimEnd('*'))];

    public IReadOnlyList<string> KeyColumns { get; } = Split(Key);

    public IReadOnlySet<string> DayColumns { get; } = Split(Days).ToHashSet();

    public ExportRows? Export { get; } = Export is null || Export.Columns.ToHashSet().SetEquals(Split(Columns).Select(c => c.TrimEnd('*'))) ? Export
        : throw new InvalidOperationException($"The export of {File} has other columns than its import: {string.Join(", ", Export.Columns)}.");

    static string[] Split(string text) => text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);
}

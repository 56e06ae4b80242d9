using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations;

/// <summary>
/// What the import of one file works with. It reads what the file's rows refer to, once, then goes through the rows in
/// memory. Rows are applied to loaded things as they are read; with any error nothing is saved.
/// </summary>
internal sealed class ImportRun(Work work, CsvTable table, IProgress<ImportProgress>? progress)
{
    const int ProgressEvery = 1_000;
    const int MostWarnings = 200;

    readonly List<string> warnings = [];
    readonly HashSet<string> said = [];

    public Work Work => work;
    public KitOrdersDb Db => work.Db;
    public DateOnly Today => table.Today;
    public CancellationToken Ct => work.Ct;
    public CsvTable Table => table;
    public bool HasErrors => table.Errors.Count > 0;

    public IReadOnlyList<string> Warnings => said.Count <= MostWarnings ? warnings
        : [.. warnings, $"{said.Count - MostWarnings} more warnings are not listed."];

    /// <summary>The rows, telling whoever waits how far it has come.</summary>
    public IEnumerable<CsvRow> Rows()
    {
        for (var i = 0; i < table.Rows.Count; i++)
        {
            if (i % ProgressEvery == 0)
            {
                Ct.ThrowIfCancellationRequested();
                progress?.Report(new ImportProgress(i, table.Rows.Count));
            }
            yield return table.Rows[i];
        }
        progress?.Report(new ImportProgress(table.Rows.Count, table.Rows.Count));
    }

    public void Warn(string sentence)
    {
        if (said.Add(sentence) && said.Count <= MostWarnings)
            warnings.Add(sentence);
    }

    /// <summary>All different values of some columns: what a query has to look for.</summary>
    public string[] Values(params string[] columns) =>
        [.. table.Rows.SelectMany(r => columns.Select(c => r[c])).OfType<string>().Distinct(StringComparer.Ordinal)];

    public Task<Dictionary<string, PartId>> PartIds(params string[] columns) => PartIdsOf(Values(columns));

    public Task<Dictionary<string, PartId>> PartIdsOf(string[] numbers) =>
        Db.Parts.Where(p => numbers.Contains(p.Number)).Select(p => new { p.Number, p.Id }).ToDictionaryAsync(p => p.Number, p => p.Id, Ct);

    public Task<Dictionary<PartId, Unit>> Units(IEnumerable<PartId> parts)
    {
        var ids = parts.ToArray();
        return Db.Parts.Where(p => ids.Contains(p.Id)).Select(p => new { p.Id, p.Unit }).ToDictionaryAsync(p => p.Id, p => p.Unit, Ct);
    }

    /// <summary>Adds or updates by key, unless something is wrong with the file.</summary>
    public Task Write<T>(IReadOnlyCollection<T> things, params string[] key) where T : class =>
        HasErrors ? Task.CompletedTask : WriteMany.ByKey(Db, things, key, Ct);

    public Task<Dictionary<string, PumpModelId>> ModelIds(params string[] columns)
    {
        var codes = Values(columns);
        return Db.PumpModels.Where(m => codes.Contains(m.Code)).Select(m => new { m.Code, m.Id }).ToDictionaryAsync(m => m.Code, m => m.Id, Ct);
    }

}

using KitOrders.Operations.Kits;
using KitOrders.Operations.Orders;
using KitOrders.Operations.Parts;
using KitOrders.Operations.People;
using KitOrders.Operations.Procedures;
using KitOrders.Operations.Pumps;
using KitOrders.Operations.Stock;
using KitOrders.Operations.Workbooks;
using KitOrders.Rules;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations;

/// <summary>
/// Imports a file: every row is checked, then all are written or none. Adds or updates by key and never deletes what the
/// file does not name. A column left out leaves what is recorded; an empty cell is "not recorded".
/// </summary>
public sealed class ImportFile(Desk desk)
{
    internal static readonly IReadOnlyList<ImportSpec> Specs =
    [
        ImportPlant.Spec, ImportBins.Spec, ImportParts.Spec, ImportAlternates.Spec, ImportFluids.Spec, ImportPumpModels.Spec,
        ImportPumps.Spec, ImportKits.Spec, ImportFits.Spec, ImportProcedures.Spec, ImportCrews.Spec, ImportJobs.Spec,
        ImportPeople.Spec, ImportTools.Spec, ImportStock.Spec, ImportIncoming.Spec, ImportFitted.Spec,
        ImportOrders.Spec, ImportHappenings.Spec,
    ];

    /// <summary>The files in the order in which they can be imported into an empty plant.</summary>
    public static IReadOnlyList<ImportFileColumns> Files { get; } =
        [.. Specs.Select(s => new ImportFileColumns(s.File, s.KeyColumns, [.. s.Names.Select(n => new ImportColumn(n, s.Needed.Contains(n)))]))];

    /// <summary>
    /// Imports the file, or with <paramref name="dryRun"/> does everything an import does and then takes it back. A file
    /// with errors is answered with a report that lists them, <see cref="ImportReport.Refused"/>. Refusals:
    /// <c>import-file-unknown</c>, <c>not-allowed</c> and conflicts with what others write at the same moment.
    /// </summary>
    /// <param name="form">What the file is said to be; bytes that are a workbook are read as one all the same.</param>
    public async Task<Outcome<ImportReport>> Run(
        Call call, string file, FileForm form, Stream content, bool dryRun, IProgress<ImportProgress>? progress = null, CancellationToken ct = default)
    {
        using var memory = new MemoryStream();
        await content.CopyToAsync(memory, ct);
        var bytes = memory.ToArray();
        return form == FileForm.Xlsx || PackedFile.Is(bytes)
            ? await Run(call, file, (spec, errors) => WorkbookRows.Read(bytes, spec, errors, ct), dryRun, progress, ct)
            : await Run(call, file, (_, errors) => CsvText.Read(bytes, errors) is { } text ? RowsOf(text, errors) : null, dryRun, progress, ct);
    }

    public Task<Outcome<ImportReport>> Run(Call call, string file, Stream csv, bool dryRun, IProgress<ImportProgress>? progress = null, CancellationToken ct = default) =>
        Run(call, file, FileForm.Csv, csv, dryRun, progress, ct);

    public Task<Outcome<ImportReport>> Run(Call call, string file, string csv, bool dryRun, IProgress<ImportProgress>? progress = null, CancellationToken ct = default) =>
        Run(call, file, (_, errors) => RowsOf(csv, errors), dryRun, progress, ct);

    static RawRows RowsOf(string csv, ImportErrors errors) => new(CsvText.Rows(csv, CsvTable.MostRows + 1, errors));

    async Task<Outcome<ImportReport>> Run(
        Call call, string file, Func<ImportSpec, ImportErrors, RawRows?> read, bool dryRun, IProgress<ImportProgress>? progress, CancellationToken ct)
    {
        if (Specs.SingleOrDefault(s => s.File == file) is not { } spec)
            return Unknown(file);
        ImportReport? report = null;
        var outcome = await desk.Write<ImportReport>(call, spec.Allowed, nameof(ImportFile), async work =>
        {
            report = await Write(work, spec, read, dryRun, progress);
            // Nothing of a dry run and of a file with errors is kept: the refusal takes it back, the report goes out.
            return dryRun || report.Refused ? notKept : report;
        }, ct);
        return outcome.Refusal == notKept ? report! : outcome;
    }

    const string Subject = "import ";

    /// <summary>The file that an entry of the audit trail is about.</summary>
    internal static string FileOf(string subject) => subject[Subject.Length..];

    static readonly Refusal notKept = Refusal.Invalid(ImportReport.RefusedCode, "Nothing was written.");

    static async Task<ImportReport> Write(Work work, ImportSpec spec, Func<ImportSpec, ImportErrors, RawRows?> read, bool dryRun, IProgress<ImportProgress>? progress)
    {
        var errors = new ImportErrors();
        if (read(spec, errors) is not { } rows || CsvTable.Read(rows, spec, work.Today, errors) is not { } table)
            return new ImportReport(errors.Rows, 0, [], errors.List());
        // One import at a time: each has read what it needs once and must not be overtaken by another.
        await work.Db.Database.ExecuteSqlAsync($"select pg_advisory_xact_lock(hashtext('kitorders import'))", work.Ct);
        var run = new ImportRun(work, table, progress);
        await spec.Run(run);
        if (!run.HasErrors)
        {
            work.Audit(Subject + spec.File, $"Imported {spec.File}: {table.Rows.Count} rows.");
            work.Changed(spec.File);
            await work.Db.SaveChangesAsync(work.Ct);
        }
        var written = dryRun || run.HasErrors ? 0 : table.Rows.Count;
        return new ImportReport(errors.Rows, written, run.Warnings, errors.List());
    }

    static Refusal Unknown(string file) => Refusal.NotFound("import-file-unknown",
        $"There is no import file {file}. There are {string.Join(", ", Specs.Select(s => s.File))}.");
}

/// <summary>What an import file holds, for the page that lists them.</summary>
public sealed record ImportFileColumns(string File, IReadOnlyList<string> Key, IReadOnlyList<ImportColumn> Columns);

public sealed record ImportColumn(string Name, bool Needed);

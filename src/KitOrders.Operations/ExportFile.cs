using System.Data;
using System.IO.Compression;
using KitOrders.Operations.Workbooks;
using KitOrders.Rules;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations;

/// <summary>
/// Takes a file out as it stands, with the columns of its import and so that the import takes it: into an empty plant in the same order, it gives the
/// same content. What happened (movements, work done, who did it) is in no file.
/// </summary>
public sealed class ExportFile(Desk desk)
{
    /// <summary>The name under which all files go out together.</summary>
    public const string Catalogue = "catalogue";

    /// <summary>The files that can be taken out, in the order of their import.</summary>
    public static IReadOnlyList<string> Files { get; } = [.. Out.Select(s => s.File)];

    static IEnumerable<ImportSpec> Out => ImportFile.Specs.Where(s => s.Export is not null);

    public static bool MayRead(Roles roles, string file) => Out.Any(s => (s.File == file || file == Catalogue) && (s.Readers & roles) != 0);

    /// <summary>
    /// Writes the file, or with <see cref="Catalogue"/> all that the person may read in one packed file, to the stream that <paramref name="begin"/> gives once
    /// nothing stands against it. All is of one moment. Refusals: <c>export-file-unknown</c>, <c>not-allowed</c>.
    /// </summary>
    public Task<Outcome<Done>> Run(Actor actor, string file, FileForm form, Func<Stream> begin, CancellationToken ct)
    {
        if (file == Catalogue)
            return Read(actor, Out.Select(s => s.Readers).Aggregate((a, b) => a | b), reading => All(reading, [.. Out.Where(s => actor.Holds(s.Readers))], form, begin()), ct);
        if (Out.SingleOrDefault(s => s.File == file) is not { } spec)
            return Task.FromResult<Outcome<Done>>(Unknown(file));
        return Read(actor, spec.Readers, reading => One(reading, spec, form, begin()), ct);
    }

    Task<Outcome<Done>> Read(Actor actor, Roles readers, Func<Reading, Task> write, CancellationToken ct) => desk.Read<Done>(actor, readers, async reading =>
    {
        await using var moment = await reading.Db.Database.BeginTransactionAsync(IsolationLevel.RepeatableRead, ct);
        await write(reading);
        return Done.Value;
    }, ct);

    static Task One(Reading reading, ImportSpec spec, FileForm form, Stream to)
    {
        var rows = spec.Export!.Read(reading, spec.Names);
        return form == FileForm.Csv ? CsvLines.Write(to, spec.Names, rows) : SheetLines.Write(to, spec.File, spec.Names, rows, reading.Ct);
    }

    static async Task All(Reading reading, IReadOnlyList<ImportSpec> specs, FileForm form, Stream to)
    {
        await using var archive = await ZipArchive.CreateAsync(to, ZipArchiveMode.Create, leaveOpen: true, entryNameEncoding: null, reading.Ct);
        foreach (var spec in specs)
        {
            await using var part = await SheetLines.Open(archive, $"{spec.File}.{Word.Of(form)}", reading.Ct);
            await One(reading, spec, form, part);
        }
    }

    static Refusal Unknown(string file) => Refusal.NotFound("export-file-unknown", $"There is no export {file}. There are {string.Join(", ", Files)}, and {Catalogue} for all of them.");
}

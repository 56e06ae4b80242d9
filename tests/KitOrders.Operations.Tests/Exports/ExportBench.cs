using System.IO.Compression;
using KitOrders.Operations.Tests.Imports;
using KitOrders.Rules;
using Xunit;

namespace KitOrders.Operations.Tests.Exports;

/// <summary>Files taken out of one plant and brought into another.</summary>
static class ExportBench
{
    static CancellationToken Ct => TestContext.Current.CancellationToken;

    /// <summary>All files but those named, in the order of their import, which is the order they lie in.</summary>
    public static async Task<List<(string File, byte[] Bytes)>> Everything(this ImportBench bench, FileForm form)
    {
        using var packed = new MemoryStream();
        Assert.True((await new ExportFile(bench.Desk).Run(bench.Actor, ExportFile.Catalogue, form, () => packed, Ct)).IsDone);
        using var archive = new ZipArchive(packed, ZipArchiveMode.Read);
        var files = archive.Entries.Select(entry =>
        {
            using var bytes = new MemoryStream();
            using var part = entry.Open();
            part.CopyTo(bytes);
            return (Path.GetFileNameWithoutExtension(entry.FullName), bytes.ToArray());
        }).ToList();
        Assert.Equal(ExportFile.Files, files.Select(f => f.Item1));
        return files;
    }

    public static async Task<byte[]> One(this ImportBench bench, string file, FileForm form)
    {
        using var bytes = new MemoryStream();
        Assert.True((await new ExportFile(bench.Desk).Run(bench.Actor, file, form, () => bytes, Ct)).IsDone);
        return bytes.ToArray();
    }

    public static async Task Take(this ImportBench bench, IEnumerable<(string File, byte[] Bytes)> files, FileForm form)
    {
        foreach (var (file, bytes) in files)
        {
            var outcome = await new ImportFile(bench.Desk).Run(new Call(bench.Actor), file, form, new MemoryStream(bytes), false, null, Ct);
            Assert.True(outcome.IsDone, outcome.Refusal?.Sentence);
            Assert.True(outcome.Value.Errors.Count == 0, string.Join("\n", outcome.Value.Errors.Take(20).Select(e => $"{file} row {e.Row} {e.Place}, {e.Column}: {e.Message}")));
        }
    }

    /// <summary>The same files byte by byte, whose differences are shown as text where they are text.</summary>
    public static void Same(IReadOnlyList<(string File, byte[] Bytes)> expected, IReadOnlyList<(string File, byte[] Bytes)> actual, FileForm form)
    {
        foreach (var ((file, before), (other, after)) in expected.Zip(actual))
        {
            Assert.Equal(file, other);
            if (form == FileForm.Csv)
                Assert.Equal(System.Text.Encoding.UTF8.GetString(before), System.Text.Encoding.UTF8.GetString(after));
            Assert.True(before.AsSpan().SequenceEqual(after), $"{file} came back as other bytes.");
        }
        Assert.Equal(expected.Count, actual.Count);
    }
}

using KitOrders.Operations;
using KitOrders.Operations.People;

namespace KitOrders.SeedDemo;

/// <summary>Loads the demo plant: its import files, by the product's own import, and nothing else.</summary>
public sealed class DemoFiles(DemoPlant plant, ImportFile import)
{
    /// <summary>Where the files lie beside the program.</summary>
    public static string Folder => Path.Combine(AppContext.BaseDirectory, "seed-demo");

    /// <summary>True when the demo plant was loaded, or what was left of it by a start that was cut off; false when something is recorded already and it was left alone.</summary>
    public async Task<bool> Load(CancellationToken ct)
    {
        var begun = await plant.Begin(ct);
        if (!begun.IsDone)
            return false;
        var (loader, loaded) = begun.Value;
        foreach (var file in ImportFile.Files.Where(f => !loaded.Contains(f.File)))
        {
            var path = Path.Combine(Folder, file.File + ".csv");
            await using var csv = File.OpenRead(path);
            var outcome = await import.Run(new Call(loader), file.File, csv, dryRun: false, ct: ct);
            if (outcome.Refusal is { } refusal)
                throw new InvalidOperationException($"{file.File}.csv of the demo plant was refused: {refusal.Sentence}");
            if (outcome.Value.Refused)
                throw new InvalidOperationException($"{file.File}.csv of the demo plant was refused: " +
                    string.Join(" ", outcome.Value.Errors.Take(5).Select(e => $"Row {e.Row}, {e.Column}: {e.Message}")));
        }
        await plant.End(loader, ct);
        return true;
    }
}

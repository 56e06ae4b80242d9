using KitOrders.Operations.Parts;
using KitOrders.Operations.Stock;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Storage;

namespace KitOrders.Operations.Kits;

/// <summary>The lines of kits in the order of their trees, assemblies opened with their current revision.</summary>
internal sealed class KitTreeReading
{
    readonly KitCatalogue catalogue;
    readonly Dictionary<PartId, decimal?> costs;
    readonly PartStandIns standIns;

    KitTreeReading(KitCatalogue catalogue, Dictionary<PartId, decimal?> costs, PartStandIns standIns)
    {
        this.catalogue = catalogue;
        this.costs = costs;
        this.standIns = standIns;
    }

    public static async Task<KitTreeReading> Load(KitOrdersDb db, IEnumerable<PartId> parts, CancellationToken ct)
    {
        var catalogue = await KitCatalogue.Load(db, parts.Distinct(), ct);
        var costs = await UnitCosts.Of(db, catalogue.All, ct);
        return new KitTreeReading(catalogue, costs, await PartStandIns.Of(db, [.. catalogue.All], ct));
    }

    public CatalogueItem Item(PartId part) => catalogue.Parts[part];

    public CurrentRevision? Current(PartId part) => catalogue.Revisions.GetValueOrDefault(part);

    public decimal? Cost(PartId part) => costs.GetValueOrDefault(part);

    public IReadOnlyList<string> Alternates(PartId part) => [.. standIns.Of(part).Where(s => !s.Supersedes).Select(s => standIns.NumberOf(s.Part))];

    public string? SupersededBy(PartId part) => standIns.SupersededBy(part);

    /// <param name="since">By line of the kit itself: what is different from the revision before.</param>
    public IReadOnlyList<KitTreeLine> Of(KitStructure kit, IReadOnlyDictionary<int, string>? since = null)
    {
        var rows = new List<KitTreeLine>();
        Walk(kit, "", [], new HashSet<PartId> { kit.Kit });
        return rows;

        void Walk(KitStructure structure, string path, IReadOnlyList<bool> above, HashSet<PartId> within)
        {
            foreach (var line in structure.Lines)
            {
                var part = catalogue.Parts[line.Part];
                // A draft may still hold itself; it is shown once and not opened again.
                var inner = within.Contains(line.Part) ? null : catalogue.Structures.GetValueOrDefault(line.Part);
                IReadOnlyList<bool> last = [.. above, line == structure.Lines[^1]];
                var at = path.Length == 0 ? $"{line.Line}" : $"{path}.{line.Line}";
                rows.Add(new KitTreeLine(at, above.Count, last, part.Number, part.Description, part.Unit, line.Quantity, line.Source, line.SparePolicy,
                    line.RejectRate, line.Wraps, line.WrapsFor, inner?.Buildable ?? false, Alternates(part.Id), Cost(part.Id),
                    above.Count > 0 ? null : since?.GetValueOrDefault(line.Line)) { SupersededBy = SupersededBy(part.Id) });
                if (inner is not null)
                    Walk(inner, at, last, [.. within, line.Part]);
            }
        }
    }
}

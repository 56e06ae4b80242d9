using KitOrders.Operations.Stock;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

/// <summary>The lines of kits in the order of their trees, assemblies opened with their current revision.</summary>
internal sealed class KitTreeReading
{
    readonly KitCatalogue catalogue;
    readonly Dictionary<PartId, decimal?> costs;
    readonly ILookup<PartId, string> alternates;

    KitTreeReading(KitCatalogue catalogue, Dictionary<PartId, decimal?> costs, ILookup<PartId, string> alternates)
    {
        this.catalogue = catalogue;
        this.costs = costs;
        this.alternates = alternates;
    }

    public static async Task<KitTreeReading> Load(KitOrdersDb db, IEnumerable<PartId> parts, CancellationToken ct)
    {
        var catalogue = await KitCatalogue.Load(db, parts.Distinct(), ct);
        var costs = await UnitCosts.Of(db, catalogue.All, ct);
        var ids = catalogue.All.ToList();
        var alternates = (await (from alternate in db.PartAlternates
                                 join other in db.Parts on alternate.AlternateId equals other.Id
                                 where ids.Contains(alternate.PartId)
                                 orderby alternate.Preference, other.Number
                                 select new { alternate.PartId, other.Number }).ToListAsync(ct)).ToLookup(a => a.PartId, a => a.Number);
        return new KitTreeReading(catalogue, costs, alternates);
    }

    public CatalogueItem Item(PartId part) => catalogue.Parts[part];

    public CurrentRevision? Current(PartId part) => catalogue.Revisions.GetValueOrDefault(part);

    public decimal? Cost(PartId part) => costs.GetValueOrDefault(part);

    public IReadOnlyList<string> Alternates(PartId part) => [.. alternates[part]];

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
                    above.Count > 0 ? null : since?.GetValueOrDefault(line.Line)));
                if (inner is not null)
                    Walk(inner, at, last, [.. within, line.Part]);
            }
        }
    }
}

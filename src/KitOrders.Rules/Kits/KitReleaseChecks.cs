using System.Globalization;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Pumps;

namespace KitOrders.Rules.Kits;

/// <summary>What stands against releasing a kit revision. Empty when nothing does. Cycles are found where the tree is known.</summary>
public static class KitReleaseChecks
{
    /// <param name="kit">The kit's own number.</param>
    /// <param name="parts">The parts of the lines.</param>
    public static IReadOnlyList<ReleaseFinding> Of(string kit, KitRevision revision, IReadOnlyDictionary<PartId, PartFact> parts) =>
    [
        .. OfKit(revision),
        .. revision.Lines.SelectMany(line => OfLine(revision, line, parts[line.PartId])),
        .. revision.Fits.SelectMany(fit => OfFit(kit, fit)),
    ];

    static IEnumerable<ReleaseFinding> OfKit(KitRevision revision)
    {
        if (revision.Lines.Count == 0)
        {
            yield return new ReleaseFinding("kit-empty", null, "The kit has no lines. Add what it brings.");
        }

        if (revision.Buildable && revision.Lines.TrueForAll(l => l.Source != LineSource.InTheBox))
        {
            yield return new ReleaseFinding("kit-not-buildable", null, "The kit is marked buildable and has no line in the box to build it from. Add the lines or unmark it.", WarningOnImport: true);
        }

        foreach (var twice in revision.Lines.GroupBy(l => l.Number).Where(g => g.Count() > 1))
        {
            yield return Against("line-twice", twice.First(), $"Line {twice.Key} stands {twice.Count()} times. Number each line once.");
        }

        foreach (var twice in revision.Fits.GroupBy(f => f.ModelId).Where(g => g.Count() > 1))
        {
            yield return new ReleaseFinding("fit-twice", null, $"One pump model has {twice.Count()} entries. Keep one for each model.");
        }
    }

    static IEnumerable<ReleaseFinding> OfLine(KitRevision revision, KitLine line, PartFact part)
    {
        if (line.Quantity <= 0)
        {
            yield return Against("line-quantity", line, $"Line {line.Number}, {part.Number}: the quantity must be above zero.");
        }

        if (part.Unit.IsCounted() && line.Wraps is null && line.Quantity != decimal.Truncate(line.Quantity))
        {
            yield return Against("line-unit", line, string.Create(CultureInfo.InvariantCulture, $"Line {line.Number}, {part.Number} is counted by the {Word.Of(part.Unit)} and cannot be {line.Quantity:0.######}. Give a whole number, or keep the part in another unit."));
        }

        if (line.PartId == revision.PartId)
        {
            yield return Against("kit-in-itself", line, $"Line {line.Number} is the kit itself.");
        }

        if (line is { Source: LineSource.CarriedOver, SparePolicy: SparePolicy.ByRate, RejectRate: null })
        {
            yield return Against("reject-rate-missing", line, $"Line {line.Number}, {part.Number} holds spares by rate. Set the rate at which it is rejected.");
        }

        if (line.RejectRate is < 0 or > 1)
        {
            yield return Against("reject-rate-range", line, $"Line {line.Number}, {part.Number}: the reject rate is a share from 0 to 1.");
        }

        if (line.Source != LineSource.CarriedOver && line.SparePolicy != SparePolicy.None)
        {
            yield return Against("spare-policy-unused", line, $"Line {line.Number}, {part.Number} has a spare policy and is not carried over. Make it carried over or remove the policy.");
        }

        if (line.Wraps is not null && line.Source != LineSource.ShopSupply)
        {
            yield return Against("wraps-source", line, $"Line {line.Number}, {part.Number} has wraps and is not shop supply.");
        }

        if (line.Wraps is not null && line.WrapsFor.Count == 0)
        {
            yield return Against("wraps-serve-nothing", line, $"Line {line.Number}, {part.Number} has wraps and serves no line. Name the lines whose fittings it seals.");
        }

        foreach (var unknown in line.WrapsFor.Where(n => n == line.Number || revision.Lines.TrueForAll(l => l.Number != n)))
        {
            yield return Against("wraps-serve-unknown", line, $"Line {line.Number}, {part.Number} seals line {unknown}, which is no other line of this kit.");
        }
    }

    static IEnumerable<ReleaseFinding> OfFit(string kit, KitFit fit)
    {
        if (fit.ConvertsToId == fit.ModelId)
        {
            yield return new ReleaseFinding("fit-converts-to-itself", null, "An entry converts a model to itself. Leave the target empty where nothing is converted.");
        }

        if (PortList.Parse(fit.Ports).Refusal is { } ports)
        {
            yield return new ReleaseFinding(ports.Code, null, ports.Sentence);
        }

        if (!string.IsNullOrWhiteSpace(fit.ExMarking) && ExMarking.Parse(fit.ExMarking).Refusal is { } marking)
        {
            yield return new ReleaseFinding(marking.Code, null, marking.Sentence);
        }

        foreach (var both in fit.RequiresKits.Intersect(fit.ExcludesKits, StringComparer.OrdinalIgnoreCase))
        {
            yield return new ReleaseFinding("fit-contradiction", null, $"{both} is both required and excluded. Keep one.");
        }

        if (fit.RequiresKits.Contains(kit, StringComparer.OrdinalIgnoreCase))
        {
            yield return new ReleaseFinding("fit-requires-itself", null, "The kit requires itself and could never be fitted.");
        }
    }

    static ReleaseFinding Against(string code, KitLine line, string sentence) =>
        new(code, line.Number.ToString(CultureInfo.InvariantCulture), sentence);
}

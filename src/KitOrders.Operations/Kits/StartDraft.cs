using System.Text.RegularExpressions;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Kits;

public sealed record StartedDraft(string Kit, int Revision);

/// <summary>
/// Begins a draft: of a part that becomes a kit by it, or of a kit's next revision with what another revision says. A kit has one
/// draft at a time.
/// </summary>
public sealed partial class StartDraft(Desk desk)
{
    /// <param name="from">The revision it begins with; the released one, else the newest, when none is named.</param>
    /// <param name="description">What the kit is, where its number is not in the catalogue yet: it is recorded, kept by the piece.</param>
    public Task<Outcome<StartedDraft>> Run(Call call, string kit, int? from, string? description, CancellationToken ct) =>
        desk.Write<StartedDraft, int>(call, Roles.Planner, "start-kit-draft", DraftLock.OneAtATime, async (work, _) =>
        {
            var db = work.Db;
            var part = await db.Parts.SingleOrDefaultAsync(p => p.Number == kit, ct);
            if (part is null && RefuseNew(kit, description) is { } refused)
                return refused;
            var isNew = part is null;
            if (part is null)
            {
                part = db.Parts.Add(new Part { Number = kit, Description = description!.Trim(), Unit = Unit.Each }).Entity;
                await db.SaveChangesAsync(ct);
            }
            var revisions = await db.KitRevisions.AsNoTracking().Include(r => r.Lines).Include(r => r.Fits).AsSplitQuery()
                .Where(r => r.PartId == part.Id).OrderBy(r => r.Number).ToListAsync(ct);
            if (revisions.Find(r => r.State == RevisionState.Draft) is { } other)
                return Refusal.Conflict("draft-exists", $"Revision {other.Number} of {kit} is a draft already. Go on with it, or drop it first.");
            var source = from is null ? revisions.Find(r => r.State == RevisionState.Released) ?? revisions.LastOrDefault() : revisions.Find(r => r.Number == from);
            if (from is not null && source is null)
                return Refusal.NotFound("revision-unknown", $"Kit {kit} has no revision {from} to begin with.");
            var draft = Copy(part.Id, (revisions.LastOrDefault()?.Number ?? 0) + 1, source);
            db.KitRevisions.Add(draft);
            work.Audit($"kit {kit}", $"Began revision {draft.Number} as a draft{(source is null ? isNew ? ", with the part itself" : "" : $" from revision {source.Number}")}.");
            work.Changed("kits");
            return new StartedDraft(kit, draft.Number);
        }, ct);

    static Refusal? RefuseNew(string kit, string? description) =>
        kit.Length is 0 or > Part.NumberMaxLength || !Identifier().IsMatch(kit)
            ? Refusal.Field("kit", "number-unreadable", $"A kit's number has letters A to Z, digits, \"-\", \".\" and \"/\", {Part.NumberMaxLength} at most.")
        : string.IsNullOrWhiteSpace(description)
            ? Refusal.Field("description", "part-unknown", $"No part has the number {kit}. Say what the kit is, and it is recorded; or correct the number.")
        : description.Trim().Length > Part.DescriptionMaxLength
            ? Refusal.Field("description", "text-too-long", $"A description has at most {Part.DescriptionMaxLength} characters.")
            : null;

    static KitRevision Copy(PartId kit, int number, KitRevision? from)
    {
        var draft = new KitRevision { PartId = kit, Number = number, Buildable = from?.Buildable ?? false };
        draft.Lines.AddRange((from?.Lines ?? []).Select(l => new KitLine
        {
            Number = l.Number, PartId = l.PartId, Quantity = l.Quantity, Source = l.Source, SparePolicy = l.SparePolicy,
            RejectRate = l.RejectRate, Wraps = l.Wraps, WrapsFor = [.. l.WrapsFor],
        }));
        draft.Fits.AddRange((from?.Fits ?? []).Select(f => new KitFit
        {
            ModelId = f.ModelId, ConvertsToId = f.ConvertsToId, NeedsSensingRod = f.NeedsSensingRod, Ports = f.Ports, SupplyKind = f.SupplyKind, Volts = f.Volts,
            VoltsTolerancePct = f.VoltsTolerancePct, Amps = f.Amps, ExMarking = f.ExMarking, Materials = [.. f.Materials], Once = f.Once,
            RequiresKits = [.. f.RequiresKits], ExcludesKits = [.. f.ExcludesKits],
        }));
        return draft;
    }

    [GeneratedRegex(@"^[A-Za-z0-9./-]+$", RegexOptions.CultureInvariant)]
    private static partial Regex Identifier();
}

using KitOrders.Rules;
using KitOrders.Rules.People;
using KitOrders.Rules.Stock;

namespace KitOrders.Operations.Stock;

/// <summary>
/// Records the inspection of a lot that ages. Passed, it gives the one extension of the standard; failed, the lot is
/// quarantined and orders that hold it are served from other lots where they can.
/// </summary>
public sealed class InspectLot(Desk desk)
{
    public Task<Outcome<LotAnswer>> Run(Call call, string part, string lot, bool passed, string note, CancellationToken ct) =>
        desk.Write<LotAnswer>(call, Roles.Storeroom, "inspect-lot", async work =>
        {
            if (string.IsNullOrWhiteSpace(note))
                return Refusal.Field("note", "note-missing", "Write down what was looked at and found.");
            var found = await LotLife.Locked(work, part, lot);
            if (found.Refusal is { } nowhere)
                return nowhere;
            var (item, batch) = found.Value;
            var elastomers = await LotLife.Elastomers(work, item.Id);
            if (batch.CuredOn is not { } cured || !ShelfLife.NeedsCureDate(elastomers))
                return Refusal.Conflict("lot-does-not-age", $"Lot {lot} of {part} has no "
                    + (batch.CuredOn is null ? "cure date" : "elastomer that ages") + " on record, so there is nothing to extend.");
            if (batch.InspectedOn is { } before)
                return Refusal.Conflict("lot-inspected-before", $"Lot {lot} was extended after the inspection of {before:yyyy-MM-dd}. There is one extension and no second.");
            var extended = ShelfLife.ExpiresOn(cured, elastomers, extended: true)!.Value;
            if (passed && extended < work.Today)
                return Refusal.Conflict("lot-too-old", $"Even extended, the last good day of lot {lot} was {extended:yyyy-MM-dd}. Scrap it.");
            work.Changed($"part:{item.Number}");
            if (passed)
            {
                batch.InspectedOn = work.Today;
                batch.ExpiresOn = extended;
                work.Audit($"part {item.Number}, lot {batch.Number}", $"Inspected, good until {extended:yyyy-MM-dd}: {note.Trim()}");
                return LotLife.Answer(item, batch, [], await CoverShortages.Run(work, [item.Id], $"the inspection of lot {batch.Number}"));
            }
            batch.Quarantine = $"Failed its inspection: {note.Trim()}";
            work.Audit($"part {item.Number}, lot {batch.Number}", $"Failed its inspection and was quarantined: {note.Trim()}");
            var lost = await LotLife.GiveUpHolds(work, item, batch, _ => true, $"the failed inspection of lot {batch.Number}");
            return LotLife.Answer(item, batch, lost, await CoverShortages.Run(work, [item.Id], "another lot"));
        }, ct);
}

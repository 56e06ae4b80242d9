using KitOrders.Operations.Kits;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.People;

namespace KitOrders.Operations.Orders;

/// <summary>
/// Opens a draft in one transaction: locks every part of its kits' trees in part order, explodes and nets, judges
/// suitability, reserves first expiry first out, records what is short and freezes the steps. However many lines it has, three
/// messages go to the database: the beginning with the draft, the stock, and everything that is written with the commit; and
/// one more where a kit was never opened before.
/// </summary>
public sealed class OpenOrder(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, CancellationToken ct) =>
        desk.Write<string, DraftToOpen?>(call, Roles.Planner, "open-order", trip => DraftToOpen.Ask(trip, number), async (work, found) =>
        {
            if (found is not { } draft)
                return OrderLookup.Unknown(number);
            if (work.SeenIsStale(draft.Version) is { } stale)
                return stale;
            if (WorkOrder.CannotOpen(number, draft.State) is { } wrongState)
                return wrongState;

            var stock = await StockForOrder.Lock(work, draft);
            if (WorkOrder.CannotOpen(number, stock.State) is { } ended)
                return ended;
            if (stock.Version != draft.Version)
                return Desk.ChangedMeanwhile;
            if (WithoutRevision(draft, stock.Catalogue) is { } noRevision)
                return noRevision;
            var planned = DemandPlanning.Plan(draft.Kits, stock.Catalogue, stock.CarriedOver, stock.Shelves, draft.FitOn, work.Plant.SpareRisk,
                draft.Campaign is not null, out var spares);
            if (planned.Refusal is { } cannot)
                return cannot;
            var judgements = Judge(draft, stock, planned.Value);
            if (SuitabilityGate.MayGoOn(judgements, stock.Answered, draft.Breakdown) is { } unsuitable)
                return unsuitable;
            if (draft.Procedure is not { } procedure)
                return Refusal.Conflict("procedure-not-released", $"No revision of the procedure of {draft.Job} is released. Release one first.");

            OpenedOrder.Write(work.Last, draft, stock.Catalogue, procedure, judgements, work.Now);
            StockLedger.HoldNew(work.Last, draft.Id, [.. planned.Value.Select(p => new NewDemand(p,
                [.. p.Plan.Origins.Select(o => new DemandOrigin(stock.Catalogue.Parts[o.Kit].Number, o.Line, o.Quantity))],
                stock.UnitCosts.GetValueOrDefault(p.Plan.Part)))]);
            if (draft.Campaign is { } campaign)
                await CampaignPool.Planned(work, campaign, draft.Id, number, spares, DemandPlanning.Facts(stock.Catalogue, stock.CarriedOver));
            work.Audit($"order {number}", $"Opened: {Summary(planned.Value)}", draft.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);

    static Refusal? WithoutRevision(DraftToOpen draft, KitCatalogue catalogue)
    {
        var missing = draft.Kits.Where(k => !catalogue.Revisions.ContainsKey(k.Kit)).Select(k => catalogue.Parts[k.Kit].Number).ToList();
        return missing.Count == 0 ? null : Refusal.Conflict("kit-not-released",
            $"No revision of {string.Join(", ", missing)} is released, so nothing says what the order needs. Release one first.");
    }

    /// <summary>Judges the kits as of now, with the lots that would be held.</summary>
    static IReadOnlyList<Judgement> Judge(DraftToOpen draft, StockForOrder stock, IReadOnlyList<PlannedDemand> planned)
    {
        var lots = stock.Shelves.DistinctBy(b => b.Lot).ToDictionary(b => b.Lot);
        return SuitabilityReading.Judge(draft.Ground, stock.Company, [.. draft.Kits.Select(k => k.Kit)], draft.Revisions, stock.Catalogue,
            [.. planned.SelectMany(p => p.Takes.Select(t => (p.Plan.Part, lots[t.Lot].LotNumber, lots[t.Lot].ExpiresOn, lots[t.Lot].Quarantined)))], draft.FitOn);
    }

    static string Summary(IReadOnlyList<PlannedDemand> planned)
    {
        var shortLines = planned.Count(p => p.Plan.Short > 0);
        return shortLines == 0 ? $"{planned.Count} lines, all covered." : $"{planned.Count - shortLines} lines covered, {shortLines} short.";
    }
}

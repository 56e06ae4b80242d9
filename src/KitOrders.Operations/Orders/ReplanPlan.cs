using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using KitOrders.Operations.Kits;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using KitOrders.Rules.Parts;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>
/// An order as it would be if it were planned now: with the current revisions, and with what is free now, what it holds itself
/// included. The same is shown before a planner decides and done afterwards.
/// </summary>
internal sealed record ReplanPlan(
    DraftToOpen Draft, KitCatalogue Catalogue, IReadOnlyList<DemandLine> Before, IReadOnlyList<PlannedDemand> After,
    IReadOnlyList<Judgement> Judgements, IReadOnlyDictionary<PartId, decimal?> UnitCosts)
{
    /// <summary>Everything the order asks for before and after, and all that its kits name: what is locked.</summary>
    public IEnumerable<PartId> Parts => Before.Select(l => l.PartId).Concat(Catalogue.All).Concat(Spared).Distinct();

    /// <summary>What is kept from the pump, of an order whose campaign holds the spares.</summary>
    public required IReadOnlyList<SpareNeed> Spares { get; init; }

    /// <summary>Parts of which the campaign holds spares for this order until now.</summary>
    public required IReadOnlyList<PartId> Spared { get; init; }

    public required IReadOnlyDictionary<PartId, PartFact> Facts { get; init; }

    public static async Task<Outcome<ReplanPlan>> Make(Reading reading, WorkOrder order)
    {
        if (Refused(order) is { } wrongState)
            return wrongState;
        var (db, ct) = (reading.Db, reading.Ct);
        var trip = new Trip(db);
        var asked = DraftToOpen.Ask(trip, order.Number);
        await trip.Send(ct);
        var draft = asked()!;
        var kits = draft.Kits.Select(k => k.Kit).ToList();
        var catalogue = await KitCatalogue.Load(db, kits, ct);
        if (kits.Any(k => draft.Revisions[k] != catalogue.Revisions.GetValueOrDefault(k)?.Id))
            throw new TreeMoved();
        if (kits.Where(k => draft.Revisions[k] is null).Select(k => catalogue.Parts[k].Number).ToList() is { Count: > 0 } missing)
            return Refusal.Conflict("kit-not-released", $"No revision of {string.Join(", ", missing)} is released, so nothing says what the order needs. Release one first.");
        var before = await db.DemandLines.AsNoTracking().Where(l => l.OrderId == order.Id).OrderBy(l => l.Id).ToListAsync(ct);
        if (before.Where(l => l.Picked > 0).Select(l => l.PartId).ToList() is { Count: > 0 } picked)
            return Refusal.Conflict("replan-picked", $"{picked.Count} parts of order {order.Number} are picked. Return them to the shelf first, then plan it again.");
        var shelves = await Freed(reading, order.Id, catalogue.All.Concat(before.Select(l => l.PartId)));
        var carried = await CarryOverRecord.Of(db, catalogue, ct);
        var planned = DemandPlanning.Plan(draft.Kits, catalogue, carried, shelves, draft.FitOn, reading.Plant.SpareRisk, draft.Campaign is not null, out var spares);
        if (planned.Refusal is { } cannot)
            return cannot;
        return new ReplanPlan(draft, catalogue, before, planned.Value, await Judge(reading, order.Id, draft, catalogue, shelves, planned.Value),
            await Stock.UnitCosts.Of(db, catalogue.All, ct))
        {
            Spares = spares, Facts = DemandPlanning.Facts(catalogue, carried),
            Spared = draft.Campaign is null ? [] : await db.OrderSpareNeeds.Where(n => n.OrderId == order.Id).Select(n => n.PartId).ToListAsync(ct),
        };
    }

    static Refusal? Refused(WorkOrder order) => order.State switch
    {
        OrderState.Open => null,
        OrderState.Draft => Refusal.Conflict("order-state", $"Order {order.Number} is a draft: it is planned when it opens."),
        OrderState.Staged => Refusal.Conflict("order-state", $"Order {order.Number} is staged with its kit complete. Unstage it and return its parts to the shelf first, then plan it again."),
        _ => Refusal.Conflict("order-state", $"Order {order.Number} is {Word.Of(order.State)}. Only an open order is planned again."),
    };

    /// <summary>The shelves as they are once the order has given up what it holds.</summary>
    static async Task<IReadOnlyList<LotBalance>> Freed(Reading reading, OrderId order, IEnumerable<PartId> parts)
    {
        var own = (await reading.Db.Reservations.AsNoTracking().Where(r => r.OrderId == order && r.Held > 0).ToListAsync(reading.Ct))
            .GroupBy(r => (r.LotId, r.BinId)).ToDictionary(g => g.Key, g => g.Sum(r => r.Held));
        return [.. (await Shelves.Of(reading.Db, parts, reading.Ct)).Select(b => b with { Reserved = b.Reserved - own.GetValueOrDefault((b.Lot, b.Bin)) })];
    }

    static async Task<IReadOnlyList<Judgement>> Judge(
        Reading reading, OrderId order, DraftToOpen draft, KitCatalogue catalogue, IReadOnlyList<LotBalance> shelves, IReadOnlyList<PlannedDemand> planned)
    {
        var trip = new Trip(reading.Db).With("order", (int?)order.Value).With("pump", draft.Pump.Value);
        var company = SuitabilityReading.AskCompany(trip);
        await trip.Send(reading.Ct);
        var lots = shelves.DistinctBy(b => b.Lot).ToDictionary(b => b.Lot);
        return SuitabilityReading.Judge(draft.Ground, company(), [.. draft.Kits.Select(k => k.Kit)], draft.Revisions, catalogue,
            [.. planned.SelectMany(p => p.Takes.Select(t => (p.Plan.Part, lots[t.Lot].LotNumber, lots[t.Lot].ExpiresOn, lots[t.Lot].Quarantined)))], draft.FitOn);
    }

    /// <summary>The same for the same plan from the same beginning, and for no other.</summary>
    public string Seen
    {
        get
        {
            var text = new StringBuilder().Append(CultureInfo.InvariantCulture, $"{Draft.Id.Value} {Draft.Version} {Draft.FitOn:yyyy-MM-dd} {Draft.Procedure?.Value}\n");
            foreach (var kit in Draft.Kits)
                text.Append(CultureInfo.InvariantCulture, $"kit {kit.Kit.Value} {kit.Quantity:0.####} {Draft.Revisions[kit.Kit]?.Value}\n");
            foreach (var l in Before)
                text.Append(CultureInfo.InvariantCulture, $"before {l.PartId.Value} {l.Source} {l.Gross:0.####} {l.Built:0.####} {l.Reserved:0.####} {l.Short:0.####}\n");
            foreach (var (plan, takes) in After)
            {
                text.Append(CultureInfo.InvariantCulture, $"after {plan.Part.Value} {plan.Source} {plan.Gross:0.####} {plan.Built:0.####} {plan.Covered:0.####} {plan.Short:0.####}");
                foreach (var take in takes)
                    text.Append(CultureInfo.InvariantCulture, $" {take.Lot.Value}/{take.Bin.Value}:{take.Quantity:0.####}");
                text.Append('\n');
            }
            foreach (var j in Judgements)
                text.Append(CultureInfo.InvariantCulture, $"check {j.Kit} {j.Check} {j.Result} {JsonSerializer.Serialize(j.Reason)}\n");
            return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(text.ToString())));
        }
    }

    public IReadOnlyList<ReplanLine> Lines(IReadOnlyDictionary<PartId, Part> parts)
    {
        var before = Before.ToDictionary(l => (l.PartId, l.Source), l => new ReplanFigures(Plain(l.Gross), Plain(l.Built), Plain(l.Required), Plain(l.Reserved), Plain(l.Short)));
        var after = After.ToDictionary(p => (PartId: p.Plan.Part, p.Plan.Source),
            p => new ReplanFigures(Plain(p.Plan.Gross), Plain(p.Plan.Built), Plain(p.Plan.Required), Plain(p.Plan.Covered), Plain(p.Plan.Short)));
        return [.. before.Keys.Union(after.Keys).OrderBy(k => k.Source).ThenBy(k => parts[k.PartId].Number, StringComparer.Ordinal)
            .Select(k => new ReplanLine(parts[k.PartId].Number, parts[k.PartId].Description, parts[k.PartId].Unit, k.Source, before.GetValueOrDefault(k), after.GetValueOrDefault(k)))];
    }

    /// <summary>Without the noughts that the record keeps behind the point.</summary>
    static decimal Plain(decimal value) => value / 1.0000000000000000000000000000m;
}

using System.Globalization;
using KitOrders.Operations.Pumps;
using KitOrders.Operations.Stock;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using KitOrders.Rules.Stock;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>What became of a picked reservation; the three add up to what was picked.</summary>
public sealed record PartAccount(int Reservation, decimal Fitted = 0, decimal Returned = 0, decimal Scrapped = 0);

/// <param name="Decontaminated">How, and by whom; needed for serviceable stock and vendors.</param>
public sealed record RemovedInput(string Part, decimal Quantity, RemovedTo To, string? Decontaminated = null);

/// <summary>
/// Closes a finished order: every step resolved, every picked part accounted for, removed parts sent somewhere, then the pump
/// record, the cost and the history are written back. Without a list, every picked part was fitted.
/// </summary>
public sealed class CloseOrder(Desk desk)
{
    public Task<Outcome<string>> Run(Call call, string number, IReadOnlyList<PartAccount>? parts, IReadOnlyList<RemovedInput>? removed, CancellationToken ct) =>
        desk.Write<string>(call, Roles.Planner | Roles.Manager, "close-order", async work =>
        {
            var found = await HeldParts.Lock(work, number);
            if (found.Refusal is { } refused)
                return refused;
            var (ledger, order) = found.Value;
            if (order.State != OrderState.Finished)
                return order.Close(work.Now, 0, 0)!;
            if (await StepsOpen(work, order) is { } steps)
                return steps;
            if (!await work.Db.HoursWorked.AnyAsync(h => h.OrderId == order.Id, ct))
                return Refusal.Conflict("hours-missing", $"No hours are recorded for order {number}. Reopen it and finish it with the hours worked.");
            var reservations = await HeldParts.Of(work, order.Id);
            var accounts = Accounts(order, reservations, parts);
            if (accounts.Refusal is { } unaccounted)
                return unaccounted;
            if (await KeepRemoved(work, order, removed ?? []) is { } badRemoved)
                return badRemoved;

            var spares = order.CampaignId is null ? [] : await CampaignSpares.UsedBy(work.Db, order.Id, ct);
            var costs = await UnitCosts.Of(work.Db, reservations.Select(r => r.PartId).Concat(spares.Select(s => s.Part)), ct);
            var actualParts = accounts.Value.Sum(a => (a.Account.Fitted + a.Account.Scrapped) * (costs.GetValueOrDefault(a.Reservation.PartId) ?? 0))
                + spares.Sum(s => s.Quantity * (costs.GetValueOrDefault(s.Part) ?? 0));
            var hours = await work.Db.HoursWorked.AsNoTracking().Where(h => h.OrderId == order.Id).ToListAsync(ct);
            if (order.Close(work.Now, decimal.Round(actualParts, 2, MidpointRounding.AwayFromZero),
                    hours.Sum(h => h.Hours * (h.HourlyRate ?? order.HourlyRate ?? 0))) is { } wrongState)
                return wrongState;
            await work.Db.SaveChangesAsync(ct);
            await GiveBack(work, ledger, order, reservations, accounts.Value);
            await PumpAfter.Closed(work, order, [.. accounts.Value.Select(a => (a.Reservation.PartId, a.Reservation.LotId, a.Account.Fitted)), .. spares]);
            work.Audit($"order {number}", string.Create(CultureInfo.InvariantCulture,
                $"Closed: parts {order.ActualParts:0.00}, work {order.ActualLabour:0.00} {work.Plant.Currency}."), order.Id);
            work.Changed($"order:{number}");
            return number;
        }, ct);

    static async Task<Refusal?> StepsOpen(Work work, WorkOrder order)
    {
        var steps = await work.Db.OrderSteps.AsNoTracking().Where(s => s.OrderId == order.Id).OrderBy(s => s.Number).ToListAsync(work.Ct);
        var results = (await work.Db.StepResults.AsNoTracking().Where(r => r.OrderId == order.Id).ToListAsync(work.Ct)).ToLookup(r => r.OrderStepId);
        var states = steps.ConvertAll(s => (Step: s, State: StepState.Of(s, [.. results[s.Id]])));
        if (states.Where(s => !s.State.Recorded).Select(s => s.Step.Number).ToList() is { Count: > 0 } open)
            return Refusal.Conflict("steps-open", $"Steps {string.Join(", ", open.Take(12))} of order {order.Number} are not recorded. Reopen the order and record them.");
        if (states.Where(s => !s.State.Resolved).Select(s => s.Step.Number).ToList() is { Count: > 0 } deviating)
            return Refusal.Conflict("steps-not-resolved", $"Steps {string.Join(", ", deviating.Take(12))} of order {order.Number} are not as specified. A planner accepts each with a reason, or they are corrected.");
        if (states.Where(s => s.Step is { HoldPoint: true, ReleasedAt: null }).Select(s => s.Step.Number).ToList() is { Count: > 0 } held)
            return Refusal.Conflict("hold-point-not-released", $"Hold points {string.Join(", ", held)} of order {order.Number} are not released.");
        return states.Exists(s => s.Step.Kind == StepKind.FunctionTest)
            && !states.Exists(s => s.Step.Kind == StepKind.FunctionTest && s.State.Progress.Standing.Any(r => r.Outcome != StepOutcome.NotApplicable))
            ? Refusal.Conflict("function-test-missing", $"No function test of order {order.Number} was done. Reopen the order and test the pump.")
            : null;
    }

    static Outcome<List<(Reservation Reservation, PartAccount Account)>> Accounts(WorkOrder order, List<Reservation> reservations, IReadOnlyList<PartAccount>? given)
    {
        var picked = reservations.Where(r => r.Unaccounted > 0).ToList();
        if (given is null)
            return picked.ConvertAll(r => (r, new PartAccount(r.Id.Value, r.Unaccounted, 0, 0)));
        if (given.Select(g => g.Reservation).Distinct().Count() != given.Count)
            return Refusal.Field("parts", "part-twice", "A reservation is named twice. Name each once.");
        var byId = given.ToDictionary(g => g.Reservation);
        if (given.Select(g => g.Reservation).Except(picked.Select(r => r.Id.Value)).ToList() is [var stranger, ..])
            return Refusal.Field("parts", "reservation-unknown", $"Reservation {stranger} has nothing picked for order {order.Number} that is still to be accounted for.");
        foreach (var r in picked)
        {
            if (!byId.TryGetValue(r.Id.Value, out var account))
                return Refusal.Conflict("parts-unaccounted", $"Reservation {r.Id.Value}: {r.Unaccounted:0.####} picked and not accounted for. Say how much was fitted, returned or scrapped.");
            if (account.Fitted < 0 || account.Returned < 0 || account.Scrapped < 0 || account.Fitted + account.Returned + account.Scrapped != r.Unaccounted)
                return Refusal.Field("parts", "parts-unaccounted", $"Reservation {r.Id.Value}: fitted, returned and scrapped must add up to the {r.Unaccounted:0.####} picked.");
        }
        return picked.ConvertAll(r => (r, byId[r.Id.Value]));
    }

    static async Task<Refusal?> KeepRemoved(Work work, WorkOrder order, IReadOnlyList<RemovedInput> removed)
    {
        var numbers = removed.Select(r => r.Part).ToList();
        var parts = await work.Db.Parts.AsNoTracking().Where(p => numbers.Contains(p.Number)).ToDictionaryAsync(p => p.Number, work.Ct);
        foreach (var input in removed)
        {
            if (!parts.TryGetValue(input.Part, out var part))
                return Refusal.Field("removed", "part-unknown", $"There is no part {input.Part}.");
            if (input.Quantity is <= 0 or > 1_000_000)
                return Refusal.Field("removed", "quantity", $"The quantity of removed {input.Part} must be above zero.");
            if (input.To != RemovedTo.Scrap && string.IsNullOrWhiteSpace(input.Decontaminated))
                return Refusal.Field("removed", "decontamination-missing", $"{input.Part} goes to {Word.Of(input.To)}: say how it was decontaminated, and by whom.");
            work.Db.RemovedParts.Add(new RemovedPart
            {
                OrderId = order.Id, PartId = part.Id, Quantity = input.Quantity, To = input.To, Decontaminated = input.Decontaminated?.Trim(),
            });
        }
        return null;
    }

    /// <summary>What was not used goes back to its bin, what was still held is free; both serve waiting orders at once.</summary>
    static async Task GiveBack(Work work, StockLedger ledger, WorkOrder order, List<Reservation> reservations, List<(Reservation Reservation, PartAccount Account)> accounts)
    {
        foreach (var (reservation, account) in accounts)
            await work.Db.Reservations.Where(r => r.Id == reservation.Id).ExecuteUpdateAsync(set => set
                .SetProperty(r => r.Fitted, r => r.Fitted + account.Fitted)
                .SetProperty(r => r.Scrapped, r => r.Scrapped + account.Scrapped), work.Ct);
        var returned = accounts.Where(a => a.Account.Returned > 0).ToList();
        await ledger.Post([.. returned.Select(a => new StockEntry(a.Reservation.PartId, a.Reservation.LotId, a.Reservation.BinId)
        {
            Kind = MovementKind.Return, OnHand = a.Account.Returned, Returned = a.Account.Returned, Reservation = a.Reservation.Id, Order = order.Id,
        })]);
        var freed = await HeldParts.Free(ledger, reservations);
        if (order.CampaignId is not null)
            freed = [.. freed, .. await CampaignEnding.Of(work, order)];
        await CoverShortages.Run(work, freed.Concat(returned.Select(a => a.Reservation.PartId)).Distinct(), $"the closing of order {order.Number}");
    }
}

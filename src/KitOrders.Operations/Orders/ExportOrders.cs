using KitOrders.Operations.Procedures;
using KitOrders.Rules.Orders;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>
/// The file <c>orders</c>: what is planned and has not left the store, as drafts. What an open order holds and which of its checks somebody answered is
/// history of this plant; where the file goes, each is opened again. Kits are named where they are not the job's.
/// </summary>
static class ExportOrders
{
    sealed record Planned(WorkOrder Order, string Pump, string Job, string? Kits);

    public static readonly ExportRows Orders = new ExportRows<Planned>(Read)
    {
        { "number", o => o.Order.Number },
        { "pump", o => o.Pump },
        { "job", o => o.Job },
        { "needed_by", o => o.Order.NeededBy },
        { "planned_fit_on", o => o.Order.PlannedFitOn },
        { "work_class", o => o.Order.WorkClass },
        { "state", _ => Rules.Word.Of(OrderState.Draft) },
        { "kits", o => o.Kits },
    };

    static async IAsyncEnumerable<Planned> Read(Reading reading)
    {
        var ofJobs = await KitsOf(from job in reading.Db.Jobs from kit in job.Kits join part in reading.Db.Parts on kit.KitPartId equals part.Id
                                  select new Used(job.Id.Value, part.Number, kit.Quantity), reading);
        var planned = reading.Db.WorkOrders.Where(o => o.State == OrderState.Draft || o.State == OrderState.Open);
        var ofOrders = await KitsOf(from order in planned from kit in order.Kits join part in reading.Db.Parts on kit.KitPartId equals part.Id
                                    select new Used(order.Id.Value, part.Number, kit.Quantity), reading);
        var rows =
            from order in planned
            join position in reading.Db.Positions on order.PositionId equals position.Id
            join job in reading.Db.Jobs on order.JobId equals job.Id
            orderby EF.Functions.Collate(order.Number, "C")
            select new Planned(order, position.Tag, job.Code, null);
        foreach (var row in await rows.ToListAsync(reading.Ct))
        {
            var kits = ofOrders.GetValueOrDefault(row.Order.Id.Value);
            yield return kits == ofJobs.GetValueOrDefault(row.Order.JobId.Value) ? row : row with { Kits = kits };
        }
    }

    sealed record Used(long By, string Kit, decimal Quantity);

    static async Task<Dictionary<long, string?>> KitsOf(IQueryable<Used> used, Reading reading) =>
        (await used.ToListAsync(reading.Ct)).GroupBy(u => u.By).ToDictionary(g => g.Key, g => ImportJobs.Written(g.Select(u => (u.Kit, u.Quantity))));
}

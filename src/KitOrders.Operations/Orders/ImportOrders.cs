using KitOrders.Operations.Procedures;
using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>
/// File <c>orders</c>: drafts and open orders, made by the product's own operations in file order in one transaction. A row
/// that cannot be opened refuses the file. A draft that is there already is changed; an order that went on stays as it is.
/// </summary>
static class ImportOrders
{
    public static readonly ImportSpec Spec = new("orders", Roles.Planner,
        "number pump* job* needed_by* planned_fit_on work_class* state kits", "number", Run, "needed_by planned_fit_on", ExportOrders.Orders);

    static async Task Run(ImportRun run)
    {
        var desk = Desk.Inside(run.Work, new ClockAt(run.Work.Now));
        var call = new Call(run.Work.Actor);
        foreach (var row in run.Rows())
        {
            if (await Make(run, desk, call, row) is not { } number || row.Word<OrderState>("state") is not { } state)
                continue;
            if (state is not (OrderState.Draft or OrderState.Open))
                row.Refuse("state", $"\"{row["state"]}\" cannot be taken: state must be draft or open. What happened later belongs to the file happenings.");
            else if (state == OrderState.Open && await StateOf(run, number) == OrderState.Draft
                && (await new OpenOrder(desk).Run(call, number, run.Ct)).Refusal is { } refusal)
                row.Refuse("state", refusal.Sentence);
        }
    }

    /// <summary>The number of the order that the row now stands for; null when it could not be made.</summary>
    static async Task<string?> Make(ImportRun run, Desk desk, Call call, CsvRow row)
    {
        var number = row.Text("number", WorkOrder.NumberMaxLength);
        var wanted = new NewOrder(row.NeedText("pump", 60), row.NeedText("job", 60), row.NeedDate("needed_by"), row.NeedWhole("work_class", 1, 10))
        {
            PlannedFitOn = row.Date("planned_fit_on"), Number = number, Kits = row["kits"] is null ? null : [.. ImportJobs.KitList(row).Select(k => new KitAsk(k.Kit, k.Quantity))],
        };
        if (row.IsBad)
            return null;
        if (number is not null && await Recorded(run, number) is { } known)
            return await Change(run, desk, call, row, known, wanted);
        var made = await new CreateOrder(desk).Run(call, wanted, run.Ct);
        if (made.Refusal is not { } refusal)
            return made.Value;
        foreach (var (field, sentences) in refusal.Errors.DefaultIfEmpty(new("number", [refusal.Sentence])))
            row.Refuse(ColumnOf(field), string.Join(" ", sentences));
        return null;
    }

    static async Task<string?> Change(ImportRun run, Desk desk, Call call, CsvRow row, RecordedOrder known, NewOrder wanted)
    {
        if (known.Pump != wanted.Pump || known.Job != wanted.Job)
            row.Refuse(known.Pump != wanted.Pump ? "pump" : "job", $"Order {wanted.Number} is {known.Job} at {known.Pump}. An order keeps its pump and job: use another number.");
        else if (wanted.Kits is not null && ImportJobs.Written(wanted.Kits.Select(k => (k.Kit, k.Quantity))) is var kits && kits != await Kits(run, wanted.Number!))
            row.Refuse("kits", $"Order {wanted.Number} is recorded with other kits. An order keeps its kits: use another number.");
        else if (known.NeededBy == wanted.NeededBy && known.WorkClass == wanted.WorkClass && (!row.Has("planned_fit_on") || known.PlannedFitOn == wanted.PlannedFitOn))
            return wanted.Number;
        else if (known.State != OrderState.Draft)
            row.Refuse("number", $"Order {wanted.Number} is {Word.Of(known.State)}. A file changes drafts only: change it on its page.");
        else if ((await new ChangeOrder(desk).Run(call, wanted.Number!, ChangeOf(row, wanted), run.Ct)).Refusal is { } refusal)
            row.Refuse("number", refusal.Sentence);
        else
            return wanted.Number;
        return null;
    }

    static OrderChange ChangeOf(CsvRow row, NewOrder wanted) =>
        new(wanted.NeededBy, wanted.PlannedFitOn, row.Has("planned_fit_on") && wanted.PlannedFitOn is null, wanted.WorkClass);

    sealed record RecordedOrder(string Pump, string Job, DateOnly NeededBy, DateOnly? PlannedFitOn, int WorkClass, OrderState State);

    static Task<RecordedOrder?> Recorded(ImportRun run, string number) => (
        from order in run.Db.WorkOrders
        join position in run.Db.Positions on order.PositionId equals position.Id
        join job in run.Db.Jobs on order.JobId equals job.Id
        where order.Number == number
        select new RecordedOrder(position.Tag, job.Code, order.NeededBy, order.PlannedFitOn, order.WorkClass, order.State)).SingleOrDefaultAsync(run.Ct);

    static async Task<string?> Kits(ImportRun run, string number) => ImportJobs.Written((await (
        from order in run.Db.WorkOrders
        from kit in order.Kits
        join part in run.Db.Parts on kit.KitPartId equals part.Id
        where order.Number == number
        select new { part.Number, kit.Quantity }).ToListAsync(run.Ct)).Select(k => (k.Number, k.Quantity)));

    static Task<OrderState> StateOf(ImportRun run, string number) =>
        run.Db.WorkOrders.Where(o => o.Number == number).Select(o => o.State).SingleAsync(run.Ct);

    static string ColumnOf(string field) => field switch
    {
        "neededBy" => "needed_by",
        "plannedFitOn" => "planned_fit_on",
        "workClass" => "work_class",
        "kits" => "job",
        _ => field,
    };
}

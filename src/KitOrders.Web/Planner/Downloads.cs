using KitOrders.Operations.Orders;
using KitOrders.Operations.Planning;
using KitOrders.Operations.Pumps;
using KitOrders.Rules;
using KitOrders.Rules.Pumps;
using KitOrders.Rules.People;
using KitOrders.Web.Access;
using KitOrders.Web.Api;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Planner;

/// <summary>The planner's tables as files. The address of a list with its filters, with .csv, is the list itself.</summary>
static class Downloads
{
    const int Page = 500;

    public static void Map(IEndpointRouteBuilder app)
    {
        var files = app.MapGroup("/").ExcludeFromDescription();
        files.MapGet("/orders/list.csv", Orders).RequireAuthorization(new ForAttribute(Roles.Planner | Roles.Storeroom | Roles.Technician | Roles.Manager));
        files.MapGet("/orders/{number}/demand.csv", Demand).RequireAuthorization(new ForAttribute(Roles.Planner | Roles.Storeroom | Roles.Technician | Roles.Manager));
        files.MapGet("/pumps/list.csv", Pumps).RequireAuthorization(new ForAttribute(Roles.Planner | Roles.Technician | Roles.Manager));
        files.MapGet("/kits/matrix.csv", MatrixFile.Get).RequireAuthorization(new ForAttribute(Roles.Planner | Roles.Manager));
        files.MapGet("/lots.csv", Storeroom.LotFile.Get).RequireAuthorization(new ForAttribute(Roles.Planner | Roles.Storeroom | Roles.Manager));
        files.MapGet("/readiness/list.csv", Readiness).RequireAuthorization(new ForAttribute(Roles.Planner | Roles.Manager));
        files.MapGet("/shortages/list.csv", Shortages).RequireAuthorization(new ForAttribute(Roles.Planner | Roles.Manager));
    }

    static async Task<IResult> Orders(OrderList list, HttpContext http, CancellationToken ct)
    {
        var query = OrderQuery.Of(name => http.Request.Query[name].ToString());
        var rows = new List<OrderRow>();
        string? after = null;
        do
        {
            var page = await list.Find(query.Filter, after, Page, ct);
            if (page.Refusal is { } refusal)
                return Problem.Of(refusal);
            rows.AddRange(page.Value.Items);
            after = page.Value.Next;
        }
        while (after is not null);
        return Csv.File("orders.csv",
            ["order", "pump", "area", "job", "description", "campaign", "state", "score", "needed_by", "fit_on", "days_late", "picked", "reserved", "short", "incoming", "lines", "lines_covered", "held_by", "hours"],
            rows.Select(r => (IReadOnlyList<object?>)[r.Number, r.Pump, r.Area, r.Job, r.JobDescription, r.Campaign, Word.Of(r.State), r.Score, r.NeededBy, r.FitOn, r.DaysLate,
                r.Picked, r.Reserved, r.Short, r.Incoming, r.Lines, r.LinesCovered, string.Join(" ", r.Holds.Select(h => h.Part)), r.Hours]));
    }

    static async Task<IResult> Demand(OrderBook book, string number, CancellationToken ct)
    {
        var order = await book.One(number, ct);
        return order.Refusal is { } refusal ? Problem.Of(refusal) : Csv.File($"{number}-demand.csv",
            ["line", "source", "part", "description", "unit", "required", "picked", "reserved", "short", "incoming", "promised_on", "lots", "bins", "unit_cost"],
            Planner.Demand.Groups(order.Value.Demand).SelectMany(g => g.Lines).Select(l => (IReadOnlyList<object?>)[l.Number, Word.Of(l.Line.Source), l.Line.Part, l.Line.Description,
                Word.Of(l.Line.Unit), l.Line.Required, l.Line.Picked, l.Line.Reserved, l.Line.Short, l.Line.Incoming, l.Line.PromisedOn,
                string.Join(" ", l.Line.Reservations.Select(r => r.Lot)), string.Join(" ", l.Line.Reservations.Select(r => r.Bin)), l.Line.UnitCost]));
    }

    static async Task<IResult> Pumps(PumpList list, string? q, string? control, bool? orders, string? where, CancellationToken ct)
    {
        var filter = new PumpFilter { Search = q, Control = Word.TryRead<Control>(control, out var read) ? read : null, WithOrders = orders ?? false, InStore = where == "store" };
        var rows = new List<PumpRow>();
        string? after = null;
        do
        {
            var page = await list.Find(filter, after, Page, ct);
            if (page.Refusal is { } refusal)
                return Problem.Of(refusal);
            rows.AddRange(page.Value.Items);
            after = page.Value.Next;
        }
        while (after is not null);
        return Csv.File("pumps.csv", ["tag", "serial", "model", "control", "sensing_rod", "area", "zone", "fluid", "criticality", "strokes", "fitted", "open_orders", "out_of_service"],
            rows.Select(r => (IReadOnlyList<object?>)[r.Tag, r.Serial, r.Model, Word.Of(r.Control), r.SensingRod switch { true => "yes", false => "no", null => "" }, r.Area,
                r.Zone is { } zone ? Word.Of(zone) : "", r.Fluid, r.Criticality, r.Strokes, string.Join(" ", r.Fitted), r.OpenOrders, r.OutOfService]));
    }

    static async Task<IResult> Readiness(ReadinessBoard board, CancellationToken ct) => Csv.File("readiness.csv",
        ["order", "pump", "job", "state", "score", "needed_by", "fit_on", "ready_on", "ready_if_bought_today", "binding_part", "uncovered", "hours"],
        (await board.Read(null, ct)).Select(r => (IReadOnlyList<object?>)[r.Order, r.Pump, r.Job, Word.Of(r.State), r.Score, r.NeededBy, r.FitOn, r.ReadyOn, r.ReadyIfBoughtToday,
            r.BindingPart, string.Join(" ", r.Uncovered.Select(u => $"{Figures.Quantity(u.Quantity)}x{u.Part}")), r.Hours]));

    static async Task<IResult> Shortages(ShortageList list, CancellationToken ct) => Csv.File("shortages.csv",
        ["part", "description", "short", "hours_held", "orders", "first_promise", "lead_time_days", "unit_cost"],
        (await list.Read(null, ct)).Select(r => (IReadOnlyList<object?>)[r.Part, r.Description, r.Quantity, r.Hours, string.Join(" ", r.Orders), r.FirstIncomingOn, r.LeadTimeDays, r.UnitCost]));
}

using KitOrders.Operations.People;
using KitOrders.Rules.Kits;
using KitOrders.Rules.Orders;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Procedures;

/// <param name="Revision">The released revision; null while none is.</param>
/// <param name="Drafted">The draft that is being written; null when there is none.</param>
/// <param name="Jobs">Jobs that use it.</param>
/// <param name="OpenOrders">Orders of those jobs that have not ended.</param>
public sealed record ProcedureRow(string Code, int? Revision, DateOnly? ReleasedOn, int? Drafted, int Steps, int HoldPoints, decimal? Minutes, IReadOnlyList<string> Jobs, int OpenOrders);

public sealed class ProcedureList(Desk desk)
{
    static readonly OrderState[] Ended = [OrderState.Closed, OrderState.Cancelled];

    /// <param name="search">In the code, in a job that uses it, or in a step of the current revision.</param>
    public Task<IReadOnlyList<ProcedureRow>> Find(string? search, CancellationToken ct) => desk.Read<IReadOnlyList<ProcedureRow>>(async reading =>
    {
        var db = reading.Db;
        var procedures = db.Procedures.AsQueryable();
        if (Blank.ToNone(search) is { } words)
        {
            var like = Pattern.Holding(words);
            procedures = procedures.Where(p => EF.Functions.ILike(p.Code, like, Pattern.Escape)
                || db.Jobs.Any(j => j.ProcedureId == p.Id && (EF.Functions.ILike(j.Code, like, Pattern.Escape) || EF.Functions.ILike(j.Description, like, Pattern.Escape)))
                || p.Revisions.Any(r => r.State != RevisionState.Superseded && r.Steps.Any(s => EF.Functions.ILike(s.Text, like, Pattern.Escape))));
        }
        var rows = await procedures.OrderBy(p => p.Code).Select(p => new
        {
            p.Code,
            Current = p.Revisions.Where(r => r.State == RevisionState.Released)
                .Select(r => new { r.Number, r.ReleasedOn, Steps = r.Steps.Count, Holds = r.Steps.Count(s => s.HoldPoint), Minutes = r.Steps.Sum(s => s.Minutes) }).FirstOrDefault(),
            Drafted = p.Revisions.Where(r => r.State == RevisionState.Draft).Select(r => (int?)r.Number).FirstOrDefault(),
            Jobs = db.Jobs.Where(j => j.ProcedureId == p.Id).OrderBy(j => j.Code).Select(j => j.Code).ToList(),
            Orders = db.WorkOrders.Count(o => !Ended.Contains(o.State) && db.Jobs.Any(j => j.Id == o.JobId && j.ProcedureId == p.Id)),
        }).ToListAsync(ct);
        return [.. rows.Select(r => new ProcedureRow(r.Code, r.Current?.Number, r.Current?.ReleasedOn, r.Drafted, r.Current?.Steps ?? 0, r.Current?.Holds ?? 0,
            r.Current?.Minutes is > 0 and var minutes ? minutes : null, r.Jobs, r.Orders))];
    }, ct);
}

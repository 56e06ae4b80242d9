using KitOrders.Rules;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Pumps;

/// <summary>Finds a pump by the tag where it stands, or by its serial number, and keeps others from moving it meanwhile.</summary>
internal static class PumpsAt
{
    public static async Task<Outcome<Pump>> Locked(Work work, string tagOrSerial)
    {
        var db = work.Db;
        var id = await (from p in db.Pumps
                        join s in db.Positions on p.PositionId equals s.Id into at
                        from s in at.DefaultIfEmpty()
                        where s.Tag == tagOrSerial || p.Serial == tagOrSerial
                        orderby s.Tag == tagOrSerial descending
                        select p.Id).Take(1).ToListAsync(work.Ct);
        if (id is not [var one])
            return PumpRecord.Unknown(tagOrSerial, await db.Positions.AnyAsync(s => s.Tag == tagOrSerial, work.Ct));
        return (await Lock(work, [one]))[0];
    }

    /// <summary>In the order of their ids, so that two moves of the same pumps wait for each other.</summary>
    public static Task<List<Pump>> Lock(Work work, params PumpId[] ids)
    {
        var numbers = ids.Select(i => i.Value).ToArray();
        return work.Db.Pumps.FromSqlInterpolated($"select * from pump where id = any({numbers}) order by id for update").ToListAsync(work.Ct);
    }
}

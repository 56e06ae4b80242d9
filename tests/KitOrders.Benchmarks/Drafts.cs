namespace KitOrders.Benchmarks;

/// <summary>Drafts of twenty lines, made set by set before they are wanted; each is opened once.</summary>
sealed class Drafts(string owner, Size size)
{
    int next = 10_000_000;

    /// <summary>Makes so many and answers the first id; the number of a draft is "D" and its id.</summary>
    public async Task<int> Make(int count, bool hot)
    {
        var first = next;
        next += count;
        var (kits, from) = hot ? (Size.HotKits, Size.SpreadKits) : (Size.SpreadKits, 0);
        await Sql.Run(owner,
            $"""
            insert into work_order (id, number, state, pump_id, position_id, job_id, needed_by, work_class, breakdown, made_at, made_by_id, version)
            select i, 'D' || i, 'draft', pump, pump, 1 + i % 20, current_date + 30, 1 + i % 10, false, now(), 1 + i % {FillPlant.People}, 1
            from generate_series({first}, {next - 1}) i, lateral (select 1 + (i::bigint * 7919 % {size.Pumps})::int) p(pump)
            """,
            $"""
            insert into order_kit (order_id, kit_part_id, quantity)
            select i, {size.FirstKit} + 3 * ({from} + (hashint4(i) & 1073741823) % {kits}), 1 from generate_series({first}, {next - 1}) i
            """);
        return first;
    }
}

namespace KitOrders.Benchmarks;

/// <summary>
/// Fills a migrated database as its owner, set by set and without the triggers of the keys, so that four million movements
/// take minutes. What it leaves is what the product would have left: stock truth is asked of it before anything is measured.
/// </summary>
static class Fill
{
    static readonly string[] large = ["movement", "reservation", "demand_line", "order_step", "order_judgement", "audit", "work_order", "order_kit"];

    public static async Task Run(string owner, string appRole, Size size)
    {
        var indexes = await Sql.Rows(owner, $"""
            select i.indexrelid::regclass::text, pg_get_indexdef(i.indexrelid) from pg_index i
            where i.indrelid::regclass::text = any('{"{" + string.Join(',', large) + "}"}')
              and not exists (select 1 from pg_constraint c where c.conindid = i.indexrelid)
            """, r => (Name: r.GetString(0), Made: r.GetString(1)));
        await Sql.Run(owner,
        [
            "alter system set max_wal_size = '8GB'", "select pg_reload_conf()",
            "set session_replication_role = replica", "set synchronous_commit = off", "set work_mem = '256MB'", "set maintenance_work_mem = '512MB'",
            .. indexes.Select(i => $"drop index {i.Name}"),
            .. FillPlant.Statements(size, appRole),
            .. FillOrders.Statements(size),
            .. indexes.Select(i => i.Made),
            Numbers, "vacuum analyze", "alter system reset max_wal_size", "select pg_reload_conf()", "checkpoint",
        ]);
    }

    /// <summary>What was written with ids of ours must not be written again by the product.</summary>
    public const string Numbers = """
        do $$
        declare t record; top bigint;
        begin
          for t in select table_name, column_name from information_schema.columns where table_schema = 'public' and is_identity = 'YES' loop
            execute format('select max(%I) from %I', t.column_name, t.table_name) into top;
            if top is not null then
              perform setval(pg_get_serial_sequence(quote_ident(t.table_name), t.column_name), top);
            end if;
          end loop;
        end $$
        """;
}

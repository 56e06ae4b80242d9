using KitOrders.Rules.People;

namespace KitOrders.Benchmarks;

/// <summary>People, pumps, parts, kits with two assemblies inside one another, and the shelves.</summary>
static class FillPlant
{
    public const int People = 32;

    /// <summary>Every kit's parts lie in bench.need as well, from which orders are filled and the floor reads what it reserves.</summary>
    public static IEnumerable<string> Statements(Size s, string appRole)
    {
        yield return "create schema bench";
        yield return "create table bench.need (kit_part_id int, n int, part_id int, quantity numeric(18,4), primary key (kit_part_id, n))";
        yield return $"grant usage on schema bench to {appRole}";
        yield return $"insert into person (id, name, roles, active, demo) select i, 'Planner ' || i, '{RoleText.Of(Roles.All)}', true, false from generate_series(1, {People}) i";
        yield return "insert into crew (id, name, people, hours_per_week, hourly_rate) values (1, 'A', 20, 38, 52)";
        yield return "insert into pump_model (id, code, description, control) values (1, 'Dunlin', 'Dunlin 25', 'pilotAir')";
        yield return $"""
            insert into position (id, tag, area, zone, criticality, version)
            select i, 'P-' || lpad(i::text, 5, '0'), 'Area ' || (1 + i % 20), 'none', 1 + i % 10, 1 from generate_series(1, {s.Pumps}) i
            """;
        yield return $"insert into pump (id, serial, model_id, position_id, version) select i, 'S' || i, 1, i, 1 from generate_series(1, {s.Pumps}) i";
        yield return "insert into procedure (id, code) values (1, 'REBUILD')";
        yield return "insert into procedure_revision (id, procedure_id, number, state, released_on) values (1, 1, 1, 'released', current_date - 900)";
        yield return """
            insert into procedure_step (procedure_revision_id, number, part_of, kind, text, hold_point, witnessed)
            select 1, n, case when n <= 3 then 'preliminary' when n <= 6 then 'main' else 'closeUp' end,
                   case when n = 8 then 'functionTest' else 'instruction' end, 'Step ' || n || ' of the rebuild.', n = 3, false
            from generate_series(1, 8) n
            """;
        yield return "insert into job (id, code, description, procedure_id, crew, hours) select i, 'J' || i, 'Rebuild ' || i, 1, 'A', 2 + i % 6 from generate_series(1, 20) i";
        yield return $"""
            insert into part (id, number, description, unit, elastomers, unit_cost, lead_time_days)
            select i, chr(65 + i % 26) || chr(65 + (i / 26) % 26) || '-' || lpad(((i * 7919) % 100000)::text, 5, '0'),
                   (array['Seal','Gasket','Valve','Spring','Bolt','Bearing','Filter','Hose','Diaphragm','Sensor','Relay','Muffler','Bracket','Switch','Connector','Shaft'])[1 + (i * 13) % 16]
                   || ', ' || (array['upper','lower','inner','outer','left','right','main','pilot','spare','long'])[1 + (i / 16) % 10] || ', '
                   || (array['nickel','bronze','steel','acetal','brass','rubber','nylon','ceramic','chrome','carbon','felt','glass'])[1 + (i / 160) % 12] || ' ' || (1 + i % 200) || ' mm',
                   'each', case when i % 4 = 0 then 'NBR' end, 1 + i % 90, 3 + i % 60
            from generate_series(1, {s.Parts}) i
            """;
        yield return $"""
            insert into part (id, number, description, unit, lead_time_days)
            select {s.FirstKit} + (3 * (k - 1)) + a, (array['KIT-','ASM-','SUB-'])[1 + a] || lpad(k::text, 5, '0'), (array['Rebuild kit ','Assembly ','Inner assembly '])[1 + a] || k, 'set', 30
            from generate_series(1, {Size.SpreadKits + Size.HotKits}) k, generate_series(0, 2) a
            """;
        yield return $"insert into part (id, number, description, unit) select {s.FirstWanted} + i - 1, 'WANTED-' || i, 'Waited for ' || i, 'each' from generate_series(1, {Size.WantedParts}) i";
        yield return "insert into part_stock (part_id, average_cost) select id, unit_cost from part";
        foreach (var statement in Kits(s).Concat(Shelves(s)))
        {
            yield return statement;
        }
    }

    /// <summary>Fourteen parts and an assembly of three parts and an assembly of three parts.</summary>
    static IEnumerable<string> Kits(Size s)
    {
        yield return $"""
            insert into bench.need (kit_part_id, n, part_id, quantity)
            select {s.FirstKit} + 3 * (k - 1), n,
                   case when k > {Size.SpreadKits} and n <= {Size.HotLines} then 1 + ((k + n) * 3 % {Size.HotParts}) * {s.Parts / Size.HotParts}
                        else spread + case when (spread - 1) % {s.Parts / Size.HotParts} = 0 then 1 else 0 end end,
                   case when n % 5 = 0 then 2 else 1 end
            from generate_series(1, {Size.SpreadKits + Size.HotKits}) k, generate_series(1, {Size.LinesPerOrder}) n,
                 lateral (select 1 + (n - 1) * {s.Parts / Size.LinesPerOrder} + (hashint4(k * 100 + n) & 1073741823) % {(s.Parts / Size.LinesPerOrder) - 1}) drawn(spread)
            """;
        yield return $"""
            insert into kit_revision (id, part_id, number, state, released_on, buildable)
            select id, id, 1, 'released', current_date - 900, true from part where id between {s.FirstKit} and {s.FirstWanted - 1}
            """;
        yield return """
            insert into kit_line (kit_revision_id, number, part_id, quantity, source, spare_policy, wraps_for)
            select kit_part_id + case when n <= 14 then 0 when n <= 17 then 1 else 2 end, n, part_id, quantity, 'inTheBox', 'none', '{}' from bench.need
            union all select distinct kit_part_id, 21, kit_part_id + 1, 1, 'inTheBox', 'none', '{}'::int[] from bench.need
            union all select distinct kit_part_id + 1, 22, kit_part_id + 2, 1, 'inTheBox', 'none', '{}'::int[] from bench.need
            """;
        yield return """
            insert into kit_fit (kit_revision_id, model_id, needs_sensing_rod, materials, once, requires_kits, excludes_kits)
            select distinct kit_part_id, 1, false, '{}'::text[], false, '{}'::text[], '{}'::text[] from bench.need
            """;
        yield return "insert into job_kit (job_id, kit_part_id, quantity) select i, (select min(kit_part_id) from bench.need) + 3 * i, 1 from generate_series(1, 20) i";
    }

    /// <summary>The first lot of a part runs out soon, so that lines spill into the second; hot parts do not run out while they are measured.</summary>
    static IEnumerable<string> Shelves(Size s)
    {
        yield return "insert into bin (id, code, walk_order) select i, 'B-' || lpad(i::text, 4, '0'), i from generate_series(1, 2000) i";
        yield return $"""
            insert into lot (id, part_id, number, received_on, cured_on, expires_on, unit_cost)
            select (p - 1) * {Size.LotsPerPart} + l, p, 'L' || ((p - 1) * {Size.LotsPerPart} + l), current_date - 300 + l,
                   case when p % 4 = 0 then current_date - 400 + 30 * l end, case when p % 4 = 0 then current_date + 1000 + 30 * l else 'infinity' end, 1 + p % 90
            from generate_series(1, {s.Parts}) p, generate_series(1, {Size.LotsPerPart}) l
            """;
    }
}

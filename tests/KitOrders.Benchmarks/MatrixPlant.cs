using KitOrders.Rules.People;

namespace KitOrders.Benchmarks;

/// <summary>
/// A plant whose pumps all differ and whose kits call for everything: each kit has an entry for each model, so that all eleven
/// checks of every pair have something to look at.
/// </summary>
static class MatrixPlant
{
    public const int Pumps = 5_000;
    public const int Kits = 20;

    const int Models = 10;
    const int PartsOfKit = 12;
    const int FirstPart = 1_000;

    public static IEnumerable<string> Statements()
    {
        yield return $"insert into person (id, name, roles, active, demo) values (1, 'Planner 1', '{RoleText.Of(Roles.All)}', true, false)";
        yield return "insert into fluid (id, name, approved, refused, ignition_c, bonding) select i, 'Fluid ' || i, '{PP,PTFE,316}', '{NBR}', case when i % 3 = 0 then 100 + 40 * i end, i % 3 = 0 from generate_series(1, 12) i";
        yield return $"""
            insert into pump_model (id, code, description, control, sensing_rod_available, ports)
            select i, 'Model ' || i, 'Pump model ' || i, case when i % 4 = 0 then 'solenoid' else 'pilotAir' end, true, 'exhaust=NPT 1/2 female; pilot=' || (array['NPT 1/8','BSPP 1/8'])[1 + i % 2] || ' female'
            from generate_series(1, {Models}) i
            """;
        yield return $"""
            insert into position (id, tag, area, zone, ex_group, temperature_class, supply_kind, supply_volts, cable_m, cable_mm2, fluid_id, criticality, version)
            select i, 'P-' || lpad(i::text, 5, '0'), 'Area ' || (1 + i % 20), (array['none','1','2','21',null])[1 + i % 5], case when i % 5 in (1, 2) then 'IIB' when i % 5 = 3 then 'IIIB' end,
                   case when i % 5 in (1, 2) then 'T4' when i % 5 = 3 then 'T135°C' end, 'dc', case when i % 17 > 0 then 24 end, i % 120, (array[0.5, 0.75, 1.0, 1.5])[1 + i % 4],
                   case when i % 13 > 0 then 1 + i % 12 end, 1 + i % 10, 1
            from generate_series(1, {Pumps}) i
            """;
        yield return $"insert into pump (id, serial, model_id, position_id, sensing_rod, version) select i, 'S' || i, 1 + i % {Models}, i, case i % 3 when 0 then true when 1 then false end, 1 from generate_series(1, {Pumps}) i";
        yield return $"""
            insert into part (id, number, description, unit, elastomers)
            select i, 'KIT-' || lpad(i::text, 2, '0'), 'Kit ' || i, 'set', null from generate_series(1, {Kits}) i
            union all select {FirstPart} + i, 'PART-' || i, 'Part ' || i, 'each', case when i % 3 = 0 then 'NBR' end from generate_series(1, {Kits * PartsOfKit}) i
            """;
        yield return "insert into part_stock (part_id, average_cost) select id, 1 from part";
        yield return $"insert into kit_revision (id, part_id, number, state, released_on, buildable) select i, i, 1, 'released', current_date - 90, true from generate_series(1, {Kits}) i";
        yield return $$"""
            insert into kit_line (kit_revision_id, number, part_id, quantity, source, spare_policy, wraps_for)
            select k, n, {{FirstPart}} + (k - 1) * {{PartsOfKit}} + n, 1 + n % 2, (array['inTheBox','inTheBox','boughtSeparately'])[1 + n % 3], 'none', '{}'
            from generate_series(1, {{Kits}}) k, generate_series(1, {{PartsOfKit}}) n
            """;
        yield return $$"""
            insert into kit_fit (kit_revision_id, model_id, converts_to_id, needs_sensing_rod, ports, supply_kind, volts, volts_tolerance_pct, amps, ex_marking, materials, once, requires_kits, excludes_kits)
            select k, m, case when k % 2 = 0 then {{Models}} end, k % 3 = 0, 'exhaust=NPT 1/2 male; pilot=NPT 1/8 male', 'dc', 24, 10, 0.1 + 0.02 * k,
                   (array['Gb IIC T4','II 2G Ex db eb IIB T3 Gb / Ex tb IIIC T135°C Db','Gc IIB T4'])[1 + k % 3], '{PP,PTFE}', k % 2 = 0,
                   case when k > 1 then array['KIT-' || lpad((k - 1)::text, 2, '0')] else '{}'::text[] end, case when k < {{Kits}} then array['KIT-' || lpad((k + 1)::text, 2, '0')] else '{}'::text[] end
            from generate_series(1, {{Kits}}) k, generate_series(1, {{Models}}) m
            """;
        yield return "insert into bin (id, code, walk_order) select i, 'B-' || i, i from generate_series(1, 50) i";
        yield return $"""
            insert into lot (id, part_id, number, received_on, cured_on, expires_on, unit_cost)
            select (i - 1) * 3 + l, {FirstPart} + i, 'L' || i || '-' || l, current_date - 100, case when i % 3 = 0 then current_date - 200 end, case when i % 3 = 0 then current_date + 200 * l else 'infinity' end, 1
            from generate_series(1, {Kits * PartsOfKit}) i, generate_series(1, 3) l
            """;
        yield return $"insert into bin_stock (part_id, lot_id, bin_id, on_hand, reserved) select part_id, id, 1 + id % 50, 1, 0 from lot";
        yield return $"insert into fitted_kit (pump_id, kit_part_id, kit_revision_id, fitted_on) select p, k, k, current_date - 400 from generate_series(1, {Pumps}) p, generate_series(1, {Kits}) k where (p + 7 * k) % 11 = 0";
        yield return "vacuum analyze";
    }
}

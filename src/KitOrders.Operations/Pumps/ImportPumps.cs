using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Pumps;

/// <summary>
/// File <c>pumps</c>: positions by tag, and the serial-numbered pump that stands at each. Another serial at a tag is another
/// pump swapped in: the one that stood there goes to the store, with its own history.
/// </summary>
static class ImportPumps
{
    public static readonly ImportSpec Spec = new("pumps", Roles.Planner | Roles.Administrator,
        "tag* serial* model* area zone ex_group temperature_class supply_kind supply_volts cable_m cable_mm2 fluid fluid_temp_c criticality* sensing_rod strokes_per_pulse commissioned_on",
        "tag", Run, "commissioned_on", ExportPumps.Pumps);

    static async Task Run(ImportRun run)
    {
        var models = await run.ModelIds("model");
        var fluids = await Fluids(run);
        var positions = await Positions(run);
        var yard = await PumpYard.Load(run, positions.Values);
        var placed = new List<(Position Position, Pump Pump)>();
        foreach (var row in run.Rows())
        {
            var tag = row.NeedText("tag", 60);
            if (!positions.TryGetValue(tag, out var position))
            {
                positions[tag] = position = new Position { Tag = tag, Criticality = 1 };
                run.Db.Add(position);
            }
            Describe(row, position, fluids);
            var pump = yard.PumpOf(row, position, row.Need("model", models, "pump model", "pump-models"));
            pump.SensingRod = row.Flag("sensing_rod", pump.SensingRod);
            pump.StrokesPerPulse = row.Whole("strokes_per_pulse", 1, 1000, pump.StrokesPerPulse);
            pump.CommissionedOn = row.Date("commissioned_on", pump.CommissionedOn);
            placed.Add((position, pump));
        }
        await yard.RefuseBusyPumps();
        if (run.HasErrors)
            return;
        // First everything that leaves leaves, then everything that comes comes: a position holds one pump at a time.
        await yard.TakeAway();
        await Save(run);
        foreach (var (position, pump) in placed)
            yard.Place(pump, position);
        await Save(run);
    }

    static void Describe(CsvRow row, Position position, Dictionary<string, FluidId> fluids)
    {
        position.Area = row.Text("area", 100, position.Area);
        position.Zone = row.Word("zone", position.Zone);
        position.ExGroup = row.Text("ex_group", 20, position.ExGroup);
        if (row["ex_group"] is { } group && ExGroup.Read(group) is null)
            row.Refuse("ex_group", $"\"{group}\" is no gas or dust group. Write IIA, IIB, IIB+H2, IIC, IIIA, IIIB or IIIC.");
        position.TemperatureClass = row.Text("temperature_class", 20, position.TemperatureClass);
        if (row["temperature_class"] is { } temperature && SurfaceTemperature.Read(temperature) is null)
            row.Refuse("temperature_class", $"\"{temperature}\" is no temperature class. Write T1 to T6 for gas, or the highest surface temperature for dust, such as T120°C.");
        position.SupplyKind = row.Word("supply_kind", position.SupplyKind);
        position.SupplyVolts = row.Amount("supply_volts", Bounds.AboveZero, position.SupplyVolts);
        position.CableM = row.Amount("cable_m", Bounds.NotNegative, position.CableM);
        position.CableMm2 = row.Amount("cable_mm2", Bounds.AboveZero, position.CableMm2);
        if (row.Has("fluid"))
            position.FluidId = row.Find("fluid", fluids, "fluid", "fluids");
        position.FluidTempC = row.Amount("fluid_temp_c", Bounds.Between(-273, 5000), position.FluidTempC);
        position.Criticality = row.NeedWhole("criticality", 1, 10);
    }

    static Task<Dictionary<string, FluidId>> Fluids(ImportRun run)
    {
        var names = run.Values("fluid");
        return run.Db.Fluids.Where(f => names.Contains(f.Name)).Select(f => new { f.Name, f.Id }).ToDictionaryAsync(f => f.Name, f => f.Id, run.Ct);
    }

    static Task<Dictionary<string, Position>> Positions(ImportRun run)
    {
        var tags = run.Values("tag");
        return run.Db.Positions.Where(p => tags.Contains(p.Tag)).ToDictionaryAsync(p => p.Tag, run.Ct);
    }

    /// <summary>Saves what changed so far, and counts the versions of what somebody may be looking at.</summary>
    static async Task Save(ImportRun run)
    {
        foreach (var entry in run.Db.ChangeTracker.Entries().Where(e => e is { State: EntityState.Modified, Entity: Position or Pump }))
        {
            var version = entry.Property(nameof(Position.Version));
            version.CurrentValue = (long)version.OriginalValue! + 1;
        }
        await run.Db.SaveChangesAsync(run.Ct);
    }
}

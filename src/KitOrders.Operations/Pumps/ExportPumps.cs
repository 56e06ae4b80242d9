using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Pumps;

/// <summary>
/// The files <c>fluids</c>, <c>pump-models</c>, <c>pumps</c> and <c>fitted</c> as they stand: positions with the pump that stands there. A pump in the
/// store has no tag to be named by.
/// </summary>
static class ExportPumps
{
    public static readonly ExportRows Fluids = new ExportRows<Fluid>(reading => reading.Db.Fluids.OrderBy(f => EF.Functions.Collate(f.Name, "C")).AsAsyncEnumerable())
    {
        { "fluid", f => f.Name },
        { "hazard", f => f.Hazard },
        { "approved", f => ExportRows.Joined(f.Approved) },
        { "refused", f => ExportRows.Joined(f.Refused) },
        { "ignition_c", f => f.IgnitionC },
        { "bonding", f => ExportRows.Flag(f.Bonding) },
    };

    public static readonly ExportRows Models = new ExportRows<PumpModel>(reading => reading.Db.PumpModels.OrderBy(m => EF.Functions.Collate(m.Code, "C")).AsAsyncEnumerable())
    {
        { "model", m => m.Code },
        { "description", m => m.Description },
        { "control", m => Rules.Word.Of(m.Control) },
        { "sensing_rod", m => ExportRows.Flag(m.SensingRodAvailable) },
        { "displacement_ml", m => m.DisplacementMl },
        { "ports", m => m.Ports },
    };

    sealed record Standing(Position At, Pump Pump, string Model, string? Fluid);

    public static readonly ExportRows Pumps = new ExportRows<Standing>(reading => (
        from position in reading.Db.Positions
        join pump in reading.Db.Pumps on position.Id equals pump.PositionId
        join model in reading.Db.PumpModels on pump.ModelId equals model.Id
        from fluid in reading.Db.Fluids.Where(f => f.Id == position.FluidId).DefaultIfEmpty()
        orderby EF.Functions.Collate(position.Tag, "C")
        select new Standing(position, pump, model.Code, fluid!.Name)).AsAsyncEnumerable())
    {
        { "tag", p => p.At.Tag },
        { "serial", p => p.Pump.Serial },
        { "model", p => p.Model },
        { "area", p => p.At.Area },
        { "zone", p => ExportRows.Word(p.At.Zone) },
        { "ex_group", p => p.At.ExGroup },
        { "temperature_class", p => p.At.TemperatureClass },
        { "supply_kind", p => ExportRows.Word(p.At.SupplyKind) },
        { "supply_volts", p => p.At.SupplyVolts },
        { "cable_m", p => p.At.CableM },
        { "cable_mm2", p => p.At.CableMm2 },
        { "fluid", p => p.Fluid },
        { "fluid_temp_c", p => p.At.FluidTempC },
        { "criticality", p => p.At.Criticality },
        { "sensing_rod", p => ExportRows.Flag(p.Pump.SensingRod) },
        { "strokes_per_pulse", p => p.Pump.StrokesPerPulse },
        { "commissioned_on", p => p.Pump.CommissionedOn },
    };

    sealed record Fitted(string Tag, string Kit, int Revision, DateOnly On);

    public static readonly ExportRows FittedKits = new ExportRows<Fitted>(reading => (
        from fitted in reading.Db.FittedKits
        join pump in reading.Db.Pumps on fitted.PumpId equals pump.Id
        join position in reading.Db.Positions on pump.PositionId equals position.Id
        join kit in reading.Db.Parts on fitted.KitPartId equals kit.Id
        join revision in reading.Db.KitRevisions on fitted.KitRevisionId equals revision.Id
        orderby EF.Functions.Collate(position.Tag, "C"), EF.Functions.Collate(kit.Number, "C")
        select new Fitted(position.Tag, kit.Number, revision.Number, fitted.FittedOn)).AsAsyncEnumerable())
    {
        { "tag", f => f.Tag },
        { "kit", f => f.Kit },
        { "revision", f => f.Revision },
        { "fitted_on", f => f.On },
    };
}

using KitOrders.Rules.Orders;
using KitOrders.Rules.Pumps;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Pumps;

/// <summary>Which pump stands where before an import of pumps, and which of them it moves.</summary>
sealed class PumpYard
{
    static readonly OrderState[] holdsThePump = [OrderState.Open, OrderState.Staged, OrderState.Underway, OrderState.Finished];

    readonly ImportRun run;
    readonly Dictionary<string, Pump> bySerial;
    readonly Dictionary<PositionId, Pump> standing;
    readonly Dictionary<PositionId, string> tags;
    readonly Dictionary<string, CsvRow> rowOfSerial = [];
    readonly HashSet<string> tagsOfFile;
    readonly Dictionary<Pump, CsvRow> leaving = [];
    readonly HashSet<Pump> moving = [];

    PumpYard(ImportRun run, List<Pump> pumps, Dictionary<PositionId, string> tags)
    {
        this.run = run;
        this.tags = tags;
        bySerial = pumps.ToDictionary(p => p.Serial);
        standing = pumps.Where(p => p.PositionId is not null).ToDictionary(p => p.PositionId!.Value);
        tagsOfFile = [.. run.Values("tag")];
    }

    public static async Task<PumpYard> Load(ImportRun run, IEnumerable<Position> positions)
    {
        var serials = run.Values("serial");
        var places = positions.Select(p => (PositionId?)p.Id).ToArray();
        var pumps = await run.Db.Pumps.Where(p => serials.Contains(p.Serial) || places.Contains(p.PositionId)).ToListAsync(run.Ct);
        var at = pumps.Where(p => p.PositionId is not null).Select(p => p.PositionId!.Value).ToArray();
        var tags = await run.Db.Positions.Where(p => at.Contains(p.Id)).Select(p => new { p.Id, p.Tag }).ToDictionaryAsync(p => p.Id, p => p.Tag, run.Ct);
        return new PumpYard(run, pumps, tags);
    }

    /// <summary>The pump the row names, found or made; what it replaces and where it comes from are noted.</summary>
    public Pump PumpOf(CsvRow row, Position position, PumpModelId model)
    {
        var serial = row.NeedText("serial", 60);
        if (!rowOfSerial.TryAdd(serial, row) && serial.Length > 0)
            row.Refuse("serial", $"Pump {serial} stands in row {rowOfSerial[serial].Number} already. A pump stands at one tag.");
        if (standing.TryGetValue(position.Id, out var before) && before.Serial != serial)
            leaving.TryAdd(before, row);
        if (!bySerial.TryGetValue(serial, out var pump))
        {
            bySerial[serial] = pump = new Pump { Serial = serial, ModelId = model };
            if (!run.HasErrors)
                run.Db.Add(pump);
            return pump;
        }
        if (pump.PositionId is { } here && here != position.Id)
        {
            if (!tagsOfFile.Contains(tags[here]))
                row.Refuse("serial", $"Pump {serial} stands at {tags[here]}. Say in the same file which pump stands there now, or take it from there first.");
            leaving.TryAdd(pump, row);
        }
        if (pump.PositionId != position.Id)
            moving.Add(pump);
        if (pump.ModelId != model && pump.Id != default)
            Note(pump, model, $"Recorded as another model by import.");
        pump.ModelId = model;
        return pump;
    }

    /// <summary>A pump with work on it stays until the work has ended.</summary>
    public async Task RefuseBusyPumps()
    {
        var ids = leaving.Keys.Select(p => p.Id).ToArray();
        var busy = await run.Db.WorkOrders.AsNoTracking().Where(o => ids.Contains(o.PumpId) && holdsThePump.Contains(o.State))
            .Select(o => new { o.PumpId, o.Number, o.State }).ToListAsync(run.Ct);
        foreach (var (pump, row) in leaving)
            foreach (var order in busy.Where(o => o.PumpId == pump.Id))
                row.Refuse("serial", $"Pump {pump.Serial} would move while order {order.Number} is {Rules.Word.Of(order.State)}. Close or cancel the order first.");
    }

    public async Task TakeAway()
    {
        var stays = new Stays(run.Db, run.Today, run.Ct);
        foreach (var pump in leaving.Keys)
        {
            var from = tags[pump.PositionId!.Value];
            var to = rowOfSerial.TryGetValue(pump.Serial, out var row) ? row["tag"] : null;
            Note(pump, pump.ModelId, to is null ? $"Taken from {from} to the store by import." : $"Moved from {from} to {to} by import.");
            if (to is null)
                run.Warn($"Pump {pump.Serial} no longer stands at {from}. It is recorded as standing in the store.");
            await stays.Leave(pump, "By import.");
        }
    }

    /// <summary>A pump that was on record before comes to another place; a new one has stood where it stands, as far as anybody knows.</summary>
    public void Place(Pump pump, Position position)
    {
        if (pump.PositionId == position.Id)
            return;
        if (moving.Contains(pump))
            new Stays(run.Db, run.Today, run.Ct).Come(pump, position, "By import.");
        else
            pump.PositionId = position.Id;
    }

    void Note(Pump pump, PumpModelId after, string what) => run.Db.Add(new PumpChange
    {
        PumpId = pump.Id, On = run.Today, What = what, ModelBefore = pump.ModelId, ModelAfter = after, StrokeCount = pump.StrokeCount,
    });
}

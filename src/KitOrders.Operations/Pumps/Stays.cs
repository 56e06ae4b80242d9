using KitOrders.Rules.Pumps;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Pumps;

/// <summary>Keeps where pumps stood, from when until when. A stay that began before moves were recorded is written when it ends.</summary>
internal sealed class Stays(KitOrdersDb db, DateOnly on, CancellationToken ct)
{
    /// <summary>The pump leaves where it stands, into the store; the caller saves before another one comes there.</summary>
    public async Task Leave(Pump pump, string why)
    {
        var place = pump.PositionId!.Value;
        if (await db.PumpStays.SingleOrDefaultAsync(s => s.PumpId == pump.Id && s.Until == null, ct) is { } stay && stay.PositionId == place)
            (stay.Until, stay.Left) = (on, why);
        else
            db.PumpStays.Add(new PumpStay { PumpId = pump.Id, PositionId = place, Until = on, Left = why });
        pump.PositionId = null;
        pump.Touch();
    }

    public void Come(Pump pump, Position place, string why)
    {
        db.PumpStays.Add(new PumpStay { PumpId = pump.Id, PositionId = place.Id, From = on, Came = why });
        pump.PositionId = place.Id;
        pump.Touch();
    }
}

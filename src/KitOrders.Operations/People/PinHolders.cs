using KitOrders.Rules;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

public sealed record PinHolder(string Name, Roles Roles);

/// <summary>Who can witness a step or release a hold point on somebody's tablet: everybody at work who has set a pin, by name.</summary>
public sealed class PinHolders(Desk desk)
{
    public Task<Outcome<IReadOnlyList<PinHolder>>> Read(Actor actor, CancellationToken ct) =>
        desk.Read<IReadOnlyList<PinHolder>>(actor, Roles.Technician | Roles.Planner | Roles.Storeroom | Roles.Manager, async reading =>
            await reading.Db.People.Where(p => p.Active && p.PinHash != null).OrderBy(p => p.Name)
                .Select(p => new PinHolder(p.Name, p.Roles)).ToListAsync(reading.Ct), ct);
}

using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

public sealed record DemoPerson(PersonId Id, string Name, Roles Roles);

/// <param name="Demo">The invented people, in the order in which their work comes; none in a plant of its own.</param>
/// <param name="NobodyYet">No administrator can sign in: the set-up link of the start is the way in.</param>
public sealed record FrontDoorView(string Plant, IReadOnlyList<DemoPerson> Demo, bool NobodyYet);

/// <summary>What a person sees before they have signed in: whose plant it is, and which ways lead in.</summary>
public sealed class FrontDoor(Desk desk)
{
    public Task<FrontDoorView> Read(CancellationToken ct) => desk.Read(async reading =>
    {
        var people = await reading.Db.People.Where(p => p.Demo && p.Active)
            .OrderBy(p => p.Name).Select(p => new DemoPerson(p.Id, p.Name, p.Roles)).ToListAsync(reading.Ct);
        return new FrontDoorView(
            reading.Plant.Name,
            [.. people.OrderBy(p => RoleText.Each(p.Roles).DefaultIfEmpty(Roles.All).Min())],
            !await reading.Administrators().AnyAsync(reading.Ct));
    }, ct);
}

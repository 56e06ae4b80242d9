using System.Text.Json;
using KitOrders.Operations;
using KitOrders.Operations.People;
using KitOrders.Rules;
using KitOrders.Rules.People;

namespace KitOrders.Web.Bench;

/// <summary>Who works at this tablet, and who may be asked for a pin on it, as the page hands it to its script.</summary>
/// <param name="Others">A JSON list of {name, role}.</param>
public sealed record BenchPerson(string Name, string Others)
{
    public static async Task<BenchPerson> Of(Actor actor, PinHolders pins, CancellationToken ct)
    {
        var holders = await pins.Read(actor, ct);
        var others = holders.IsDone ? holders.Value.Select(p => new { p.Name, Role = string.Join(", ", RoleText.Each(p.Roles).Select(r => Word.Of(r))) }) : [];
        return new BenchPerson(actor.Name, JsonSerializer.Serialize(others, Json.Options));
    }
}

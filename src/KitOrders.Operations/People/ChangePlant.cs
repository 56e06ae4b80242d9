using KitOrders.Rules;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

/// <summary>What the plant has set.</summary>
public sealed class PlantView(Desk desk)
{
    public Task<PlantSettings> Read(CancellationToken ct) => desk.Read(reading => Task.FromResult(reading.Plant), ct);
}

/// <summary>Sets one setting of the plant: its name, zone, currency or one of its rules' numbers.</summary>
public sealed class ChangePlant(Desk desk)
{
    public Task<Outcome<Done>> Run(Call call, string key, string value, CancellationToken ct) =>
        desk.Write<Done>(call, Roles.Administrator | Roles.Planner, "change-plant", async work =>
        {
            if (!PlantSettings.Keys.Contains(key))
                return Refusal.Field("key", "setting-unknown", $"'{key}' is not a setting. There are {string.Join(", ", PlantSettings.Keys)}.");
            value = value.Trim();
            if (PlantSettings.Refuse(key, value) is { } sentence)
                return Refusal.Field(key, "setting-value", sentence);
            var kept = await work.Db.PlantSettings.SingleOrDefaultAsync(s => s.Key == key, ct);
            if (kept is null)
                work.Db.PlantSettings.Add(new PlantSetting { Key = key, Value = value });
            else
                kept.Value = value;
            work.Audit($"setting {key}", $"Set {key} to {value}.");
            work.Changed("plant");
            return Done.Value;
        }, ct);
}

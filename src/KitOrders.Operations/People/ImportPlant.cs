using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

/// <summary>File <c>plant</c>: what the plant has set. Keys that mean nothing here are kept as they come.</summary>
static class ImportPlant
{
    public static readonly ImportSpec Spec = new("plant", Roles.Administrator, "key* value*", "key", Run, Export: ExportPeople.Plant)
    {
        Readers = Roles.Planner | Roles.Administrator,
    };

    static async Task Run(ImportRun run)
    {
        var recorded = await run.Db.PlantSettings.ToDictionaryAsync(s => s.Key, run.Ct);
        foreach (var row in run.Rows())
        {
            var key = row.NeedText("key", 60);
            var value = row.NeedText("value", 200);
            if (key.Length == 0 || value.Length == 0)
                continue;
            if (PlantSettings.Refuse(key, value) is { } why)
                row.Refuse("value", why);
            if (!PlantSettings.Keys.Contains(key))
                run.Warn($"The setting {key} means nothing here. It is kept as it is.");
            if (recorded.TryGetValue(key, out var setting))
                setting.Value = value;
            else
                run.Db.Add(new PlantSetting { Key = key, Value = value });
        }
    }
}

using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

/// <summary>
/// The files <c>plant</c>, <c>crews</c>, <c>people</c> and <c>tools</c> as they stand. Of people those on the list with a role: a name brought in by a file
/// is on the list, and passwords, pins and tokens are in no file.
/// </summary>
static class ExportPeople
{
    public static readonly ExportRows Plant = new ExportRows<PlantSetting>(reading => reading.Db.PlantSettings.OrderBy(s => EF.Functions.Collate(s.Key, "C")).AsAsyncEnumerable())
    {
        { "key", s => s.Key },
        { "value", s => s.Value },
    };

    public static readonly ExportRows Crews = new ExportRows<Crew>(reading => reading.Db.Crews.OrderBy(c => EF.Functions.Collate(c.Name, "C")).AsAsyncEnumerable())
    {
        { "crew", c => c.Name },
        { "people", c => c.People },
        { "hours_per_week", c => c.HoursPerWeek },
        { "hourly_rate", c => c.HourlyRate },
    };

    public static readonly ExportRows People = new ExportRows<Person>(reading =>
        reading.Db.People.Where(p => p.Active && p.Name != Bootstrap.Name && p.Roles != Roles.None).OrderBy(p => EF.Functions.Collate(p.Name, "C")).AsAsyncEnumerable())
    {
        { "name", p => p.Name },
        { "roles", p => RoleText.Of(p.Roles) },
        { "crew", p => p.Crew },
    };

    public static readonly ExportRows Tools = new ExportRows<Tool>(reading => reading.Db.Tools.OrderBy(t => EF.Functions.Collate(t.Code, "C")).AsAsyncEnumerable())
    {
        { "tool", t => t.Code },
        { "description", t => t.Description },
        { "low", t => t.Low },
        { "high", t => t.High },
        { "unit", t => t.Unit },
        { "calibrated_on", t => t.CalibratedOn },
        { "due_on", t => t.DueOn },
    };
}

using System.Globalization;

namespace KitOrders.Rules.People;

/// <summary>What the plant has set, with what holds where it has set nothing.</summary>
public sealed record PlantSettings
{
    public string Name { get; init; } = "Plant without a name";

    /// <summary>IANA zone in which "today" is read.</summary>
    public string TimeZone { get; init; } = "UTC";

    /// <summary>Units people read torque in: "metric" (N·m) or "imperial" (lbf·ft).</summary>
    public string Units { get; init; } = "metric";

    public string Currency { get; init; } = "EUR";

    /// <summary>Days after today at which a promise that has passed is counted.</summary>
    public int LatePromiseDays { get; init; } = 7;

    /// <summary>Risk at which spares kept by rate run out, above 0 and below 1.</summary>
    public decimal SpareRisk { get; init; } = 0.05m;

    /// <summary>Days within which an order that a receipt would finish is shown beside higher ones.</summary>
    public int TakeOverWindowDays { get; init; } = 14;

    /// <summary>The keys that mean something here; others are kept as they come.</summary>
    public static readonly IReadOnlyList<string> Keys =
        ["name", "time_zone", "units", "currency", "late_promise_days", "spare_risk", "take_over_window_days"];

    /// <summary>Reads one setting; null when it can be taken, else the sentence that says why not.</summary>
    public static string? Refuse(string key, string value) => key switch
    {
        "units" => value is "metric" or "imperial" ? null : "units must be metric or imperial.",
        "time_zone" => TimeZoneInfo.TryFindSystemTimeZoneById(value, out _) ? null
            : $"'{value}' is not a time zone this machine knows; write an IANA name such as Europe/Vienna.",
        "late_promise_days" or "take_over_window_days" =>
            int.TryParse(value, NumberStyles.None, CultureInfo.InvariantCulture, out var days) && days <= 365
                ? null : $"{key} must be a whole number from 0 to 365.",
        "spare_risk" => decimal.TryParse(value, NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out var risk)
            && risk is > 0 and < 1 ? null : "spare_risk must lie above 0 and below 1, such as 0.05.",
        _ => value.Length is > 0 and <= 100 ? null : $"{key} must be 1 to 100 characters.",
    };

    public static PlantSettings From(IReadOnlyDictionary<string, string> set)
    {
        var plain = new PlantSettings();
        return new PlantSettings
        {
            Name = set.GetValueOrDefault("name", plain.Name),
            TimeZone = set.GetValueOrDefault("time_zone", plain.TimeZone),
            Units = set.GetValueOrDefault("units", plain.Units),
            Currency = set.GetValueOrDefault("currency", plain.Currency),
            LatePromiseDays = Number("late_promise_days", plain.LatePromiseDays),
            TakeOverWindowDays = Number("take_over_window_days", plain.TakeOverWindowDays),
            SpareRisk = set.TryGetValue("spare_risk", out var risk) ? decimal.Parse(risk, CultureInfo.InvariantCulture) : plain.SpareRisk,
        };

        int Number(string key, int otherwise) =>
            set.TryGetValue(key, out var text) ? int.Parse(text, CultureInfo.InvariantCulture) : otherwise;
    }

    public DateOnly DayOf(DateTimeOffset instant) => DateOnly.FromDateTime(TimeOf(instant).DateTime);

    /// <summary>The first moment of a day at the plant, in UTC; where clocks leave midnight out, the first that there is.</summary>
    public DateTimeOffset BeginOf(DateOnly day)
    {
        var zone = TimeZoneInfo.FindSystemTimeZoneById(TimeZone);
        var first = day.ToDateTime(TimeOnly.MinValue);
        while (zone.IsInvalidTime(first))
        {
            first = first.AddMinutes(1);
        }

        var offset = zone.IsAmbiguousTime(first) ? zone.GetAmbiguousTimeOffsets(first).Max() : zone.GetUtcOffset(first);
        return new DateTimeOffset(first, offset).ToUniversalTime();
    }

    /// <summary>The same moment, as the clocks of the plant show it.</summary>
    public DateTimeOffset TimeOf(DateTimeOffset instant) => TimeZoneInfo.ConvertTime(instant, TimeZoneInfo.FindSystemTimeZoneById(TimeZone));

    public DateTimeOffset? TimeOf(DateTimeOffset? instant) => instant is { } at ? TimeOf(at) : null;
}

/// <summary>One setting of the plant as it is kept.</summary>
public sealed class PlantSetting
{
    public required string Key { get; init; }

    public required string Value { get; set; }
}

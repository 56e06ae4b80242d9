using System.Globalization;

namespace KitOrders.Web.Shared;

/// <summary>How a day is written.</summary>
public enum DayForm
{
    /// <summary>Mon 15 March: for days near enough to need no year.</summary>
    Day,

    /// <summary>Monday, 15 March: once per screen.</summary>
    Head,

    /// <summary>15 Mar: in tight columns.</summary>
    Short,

    /// <summary>15 Mar 2027: for what was long ago or is far ahead.</summary>
    Year,
}

/// <summary>Days and moments as people read them. Moments are handed in the plant's own time.</summary>
public static class Days
{
    public static string Text(DateOnly day, DayForm form = DayForm.Day) =>
        day.ToString(form switch
        {
            DayForm.Head => "dddd, d MMMM",
            DayForm.Short => "d MMM",
            DayForm.Year => "d MMM yyyy",
            _ => "ddd d MMMM",
        }, CultureInfo.InvariantCulture);

    /// <summary>2 Mar 07:40.</summary>
    public static string Moment(DateTimeOffset inPlantTime) => inPlantTime.ToString("d MMM HH:mm", CultureInfo.InvariantCulture);

    /// <summary>07:40.</summary>
    public static string Hour(DateTimeOffset inPlantTime) => inPlantTime.ToString("HH:mm", CultureInfo.InvariantCulture);
}

using System.Globalization;

namespace KitOrders.Rules.Procedures;

/// <summary>How an adapter sits on the wrench.</summary>
public enum AdapterPosition
{
    InLine,
    Reversed,
    RightAngle,
}

/// <summary>A torque tool on record; range in N·m, null is not recorded. <paramref name="DueOn"/> is the last good day.</summary>
public sealed record TorqueTool(string Tool, decimal? LowNm, decimal? HighNm, DateOnly? DueOn)
{
    /// <summary>
    /// May this tool be used on that day at that setting (the target, or what an adapter makes of it), N·m? Null when so.
    /// Refused: <c>tool-calibration-unknown</c>, <c>tool-out-of-calibration</c>, <c>tool-range-unknown</c>, <c>tool-out-of-range</c>.
    /// </summary>
    public Refusal? MayBeUsed(decimal settingNm, DateOnly on)
    {
        if (DueOn is not { } due)
        {
            return Refusal.Conflict("tool-calibration-unknown", $"Tool {Tool} has no calibration date on record. Take a calibrated tool or record the date.");
        }

        if (on > due)
        {
            return Refusal.Conflict("tool-out-of-calibration", $"Tool {Tool} has been out of calibration since {due.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)}. Take a calibrated tool.");
        }

        return (LowNm, HighNm) switch
        {
            (null, _) or (_, null) => Refusal.Conflict("tool-range-unknown", $"Tool {Tool} has no usable range on record. Record it or take another tool."),
            var (low, high) when settingNm < low || settingNm > high => Refusal.Conflict("tool-out-of-range", string.Create(CultureInfo.InvariantCulture, $"Tool {Tool} is good from {low:0.##} to {high:0.##} N·m, the setting is {settingNm:0.##} N·m. Take a tool whose range holds it.")),
            _ => null,
        };
    }

    /// <summary>
    /// What to set on a wrench of length L with an adapter of length E, for a torque T at the bolt, in T's unit:
    /// in line T·L/(L+E), reversed T·L/(L−E), at 90° T (engineersedge.com, torque wrench extensions). Lengths in one unit.
    /// Refused as <c>adapter-length</c> when a length cannot be.
    /// </summary>
    public static Outcome<decimal> Setting(decimal torque, decimal wrenchLength, decimal adapterLength, AdapterPosition position)
    {
        if (wrenchLength <= 0 || adapterLength < 0)
        {
            return Refusal.Field("adapterLength", "adapter-length", "The wrench must be longer than nothing and the adapter not shorter. Measure both.");
        }

        return position switch
        {
            AdapterPosition.RightAngle => torque,
            AdapterPosition.InLine => torque * wrenchLength / (wrenchLength + adapterLength),
            _ when adapterLength >= wrenchLength => Refusal.Field("adapterLength", "adapter-length", "A reversed adapter must be shorter than the wrench."),
            _ => torque * wrenchLength / (wrenchLength - adapterLength),
        };
    }
}

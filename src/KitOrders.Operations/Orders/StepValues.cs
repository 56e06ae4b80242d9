using KitOrders.Rules;
using KitOrders.Rules.Orders;
using KitOrders.Rules.People;
using KitOrders.Rules.Procedures;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.Orders;

/// <summary>Holds a value that somebody wants to record against what the step asks for.</summary>
internal static class StepValues
{
    /// <summary>The value as it is kept: torque in N·m whatever unit it was read in, a reading in the step's own unit.</summary>
    internal sealed record Kept(decimal? Value, string? Unit);

    public static Outcome<Kept> Read(OrderStep step, StepInput input) => step.Kind switch
    {
        StepKind.Torque => Torqued(step, input),
        StepKind.Reading => Read(step, input.Outcome, input.Value, input.Unit),
        _ when input.Value is not null && (step.Low is not null || step.High is not null) => Read(step, input.Outcome, input.Value, input.Unit),
        _ => new Kept(input.Value, input.Value is null ? null : input.Unit ?? step.Unit),
    };

    static Outcome<Kept> Read(OrderStep step, StepOutcome outcome, decimal? value, string? unit)
    {
        if (value is not null && unit is not null && step.Unit is not null && !string.Equals(unit, step.Unit, StringComparison.OrdinalIgnoreCase))
            return Refusal.Field("unit", "unit-differs", $"Step {step.Number} is read in {step.Unit}, not in {unit}. Give the value in {step.Unit}.");
        return new ReadingLimits(step.Low, step.High, step.Unit).Agrees(outcome, value) is { } refusal ? refusal : new Kept(value, value is null ? null : step.Unit ?? unit);
    }

    static Outcome<Kept> Torqued(OrderStep step, StepInput input)
    {
        if (input.Value is not { } value)
            return new Kept(null, null);
        if (!Torque.TryReadUnit(input.Unit ?? step.Unit ?? "Nm", out var unit))
            return Refusal.Field("unit", "unit-unknown", $"'{input.Unit ?? step.Unit}' is not a unit of torque. Give N·m, lbf·in or lbf·ft.");
        if (value <= 0)
            return Refusal.Field("value", "torque-value", "A torque is above zero.");
        var read = Torque.ToNm(value, unit);
        var joint = JointOf(step);
        if (joint is not null && input.Outcome == StepOutcome.AsSpecified)
        {
            var (low, high) = TorquePlan.Limits(joint);
            var last = (input.Pass ?? 1) >= StepState.PassesOf(step);
            if (new ReadingLimits(last ? low : null, high, "N·m").Agrees(StepOutcome.AsSpecified, read) is { } outside)
                return outside;
        }
        return new Kept(decimal.Round(read, 4), Word.Of(TorqueUnit.NewtonMetre));
    }

    static TorqueJoint? JointOf(OrderStep step)
    {
        if (step.Target is not { } target || !Torque.TryReadUnit(step.Unit ?? "Nm", out var unit))
            return null;
        return new TorqueJoint(step.Bolts ?? 1, step.Sequence, Torque.ToNm(target, unit), step.TolerancePct,
            step.Low is { } low ? Torque.ToNm(low, unit) : null, step.High is { } high ? Torque.ToNm(high, unit) : null, step.Passes);
    }

    /// <summary>The tool named, else the one the step names, must be in calibration and reach the torque.</summary>
    public static async Task<Refusal?> ToolMayBeUsed(Work work, OrderStep step, StepInput input)
    {
        if (step.Kind is not (StepKind.Torque or StepKind.Reading) || input.Outcome == StepOutcome.NotApplicable)
            return null;
        if ((input.Tool ?? step.Tool) is not { } code)
            return null;
        var tool = await work.Db.Tools.AsNoTracking().SingleOrDefaultAsync(t => t.Code == code, work.Ct);
        if (tool is null)
            return input.Tool is null ? null
                : Refusal.Field("tool", "tool-unknown", $"There is no tool {code} on record. Take one that is, or have it recorded first.");
        if (step.Kind == StepKind.Reading)
            return tool.DueOn < work.Today
                ? Refusal.Field("tool", "tool-out-of-calibration", $"The calibration of {code} ran out on {tool.DueOn:yyyy-MM-dd}. Take a tool that is in calibration.")
                : null;
        Torque.TryReadUnit(tool.Unit ?? "Nm", out var unit);
        var setting = JointOf(step)?.TargetNm ?? 0;
        return setting == 0 ? null : new TorqueTool(code, tool.Low is { } low ? Torque.ToNm(low, unit) : null,
            tool.High is { } high ? Torque.ToNm(high, unit) : null, tool.DueOn).MayBeUsed(setting, work.Today);
    }
}

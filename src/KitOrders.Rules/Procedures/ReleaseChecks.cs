using System.Globalization;
using KitOrders.Rules.Pumps;

namespace KitOrders.Rules.Procedures;

/// <summary>What stands against releasing a procedure revision. Empty when nothing does.</summary>
public static class ReleaseChecks
{
    /// <param name="steps">All steps of the revision, for every model.</param>
    /// <param name="models">The names of the models that steps are written for.</param>
    public static IReadOnlyList<ReleaseFinding> Of(IReadOnlyList<ProcedureStep> steps, IReadOnlyDictionary<PumpModelId, string> models) =>
    [
        .. Parts(steps),
        .. Numbers(steps),
        .. Models(steps).SelectMany(model => Energy(model is { } id ? $" for model {models[id]}" : "", ForModel(steps, model))),
        .. steps.SelectMany(OfStep),
    ];

    static IEnumerable<ReleaseFinding> Parts(IReadOnlyList<ProcedureStep> steps) =>
        from part in Enum.GetValues<PartOf>()
        where steps.All(s => s.PartOf != part)
        select new ReleaseFinding("part-empty", null, $"The procedure has no {Named(part)} step. It needs at least one.");

    static IEnumerable<ReleaseFinding> Numbers(IReadOnlyList<ProcedureStep> steps) =>
        from twice in steps.GroupBy(s => s.Number)
        where twice.Count() > 1
        select Against("step-twice", twice.First(), $"Step {twice.Key} stands {twice.Count()} times. Number each step once.");

    /// <summary>Each model a step is written for must find the whole sequence; a procedure for all models is one case.</summary>
    static IEnumerable<PumpModelId?> Models(IReadOnlyList<ProcedureStep> steps) =>
        steps.Select(s => s.ModelId).Where(m => m is not null).Distinct().DefaultIfEmpty(null);

    static List<ProcedureStep> ForModel(IReadOnlyList<ProcedureStep> steps, PumpModelId? model) =>
        [.. steps.Where(s => s.ModelId is null || s.ModelId == model).OrderBy(s => s.Number)];

    static IEnumerable<ReleaseFinding> Energy(string forModel, List<ProcedureStep> steps)
    {
        foreach (var part in new[] { PartOf.Preliminary, PartOf.CloseUp })
        {
            var points = steps.Where(s => s.PartOf == part).Select(s => EnergyPoints.Read(part, s.Text)).OfType<EnergyPoint>().ToList();
            foreach (var missing in EnergyPoints.Of(part).Except(points))
            {
                yield return new ReleaseFinding("energy-step-missing", null, $"No {Named(part)} step{forModel} says \"{Word.Of(missing)}:\" ({EnergyPoints.Meaning(missing)}). Add it.", WarningOnImport: true);
            }

            var firsts = points.Distinct().ToList();
            if (!firsts.SequenceEqual(firsts.Order()))
            {
                yield return new ReleaseFinding("energy-steps-order", null, $"The {Named(part)} steps{forModel} must come in the order {string.Join(", ", EnergyPoints.Of(part).Select(p => Word.Of(p)))}; they come as {string.Join(", ", firsts.Select(p => Word.Of(p)))}.", WarningOnImport: true);
            }

            if (points.LastIndexOf(EnergyPoint.Verified) < points.LastIndexOf(EnergyPoint.Relieved) && points.Contains(EnergyPoint.Verified))
            {
                yield return new ReleaseFinding("energy-not-verified-again", null, $"Energy is relieved again after the last \"Verify:\"{forModel}. Verify once more after it.", WarningOnImport: true);
            }
        }

        if (steps.TrueForAll(s => s.Kind != StepKind.FunctionTest))
        {
            yield return new ReleaseFinding("function-test-missing", null, $"No step{forModel} is a function test. Add one to the close-up.", WarningOnImport: true);
        }
        else if (steps.TrueForAll(s => s.Kind != StepKind.FunctionTest || s.PartOf != PartOf.CloseUp))
        {
            yield return new ReleaseFinding("function-test-place", null, $"The function test{forModel} belongs to the close-up, where the pump may run again. Move it there.", WarningOnImport: true);
        }
    }

    static IEnumerable<ReleaseFinding> OfStep(ProcedureStep step)
    {
        if (string.IsNullOrWhiteSpace(step.Text))
        {
            yield return Against("step-text-missing", step, $"Step {step.Number} has no text. Say what to do.");
        }

        if (EnergyPoints.Read(step.PartOf, step.Text) is { } point && step.Text.Trim().EndsWith(':'))
        {
            yield return Against("energy-step-empty", step, $"Step {step.Number} says only \"{Word.Of(point)}:\". Say how it is done at this pump.") with { WarningOnImport = true };
        }

        if (new Caution(step.SignalWord, step.Hazard, step.Consequence, step.Avoid).Missing is { Count: > 0 } missing)
        {
            yield return Against("caution-incomplete", step, $"The caution of step {step.Number} lacks {string.Join(", ", missing)}.") with { WarningOnImport = true };
        }

        if (step.Kind == StepKind.Torque)
        {
            foreach (var finding in OfTorque(step))
            {
                yield return finding;
            }
        }

        if (step.Kind == StepKind.Reading && (string.IsNullOrWhiteSpace(step.Unit) || (step.Low is null && step.High is null)))
        {
            yield return Against("reading-incomplete", step, $"The reading of step {step.Number} needs a unit and a low or a high limit.") with { WarningOnImport = true };
        }

        if (step.Low > step.High)
        {
            yield return Against("limits-crossed", step, $"The low limit of step {step.Number} is above its high limit.");
        }

        if (step.Kind == StepKind.CarryOver && step.PartId is null)
        {
            yield return Against("carry-over-part-missing", step, $"Step {step.Number} decides on a carried-over part. Name the part.") with { WarningOnImport = true };
        }
    }

    static IEnumerable<ReleaseFinding> OfTorque(ProcedureStep step)
    {
        if (step.Target is not { } target || !Torque.TryReadUnit(step.Unit, out var unit))
        {
            return [Against("torque-incomplete", step, $"The torque of step {step.Number} needs a target and a unit: N·m, lbf·in or lbf·ft.") with { WarningOnImport = true }];
        }

        decimal? Nm(decimal? value) => value is { } v ? Torque.ToNm(v, unit) : null;
        var joint = new TorqueJoint(step.Bolts ?? 1, step.Sequence, Torque.ToNm(target, unit), step.TolerancePct, Nm(step.Low), Nm(step.High), step.Passes);
        var (low, high) = TorquePlan.Limits(joint);
        var fault = TorquePlan.For(joint).Refusal;
        return
        [
            .. fault is null ? Array.Empty<ReleaseFinding>() : [Against(fault.Code, step, $"Step {step.Number}: {fault.Sentence}") with { WarningOnImport = fault.Code != "joint-limits" }],
            .. low is not null || high is not null ? Array.Empty<ReleaseFinding>() : [Against("torque-incomplete", step, $"The torque of step {step.Number} needs a tolerance or limits.") with { WarningOnImport = true }],
        ];
    }

    static ReleaseFinding Against(string code, ProcedureStep step, string sentence) =>
        new(code, step.Number.ToString(CultureInfo.InvariantCulture), sentence);

    static string Named(PartOf part) => part == PartOf.CloseUp ? "close-up" : Word.Of(part);
}

using System.Globalization;
using KitOrders.Rules.Pumps;

namespace KitOrders.Rules.Kits;

/// <summary>What a check looks at beside the kit and the day: where that is the same, it comes out the same.</summary>
public enum LooksAt
{
    NothingElse,

    /// <summary>The pump's model, with its control and ports.</summary>
    Model,

    /// <summary>The area and the fluid of the position.</summary>
    Place,

    /// <summary>The supply of the position.</summary>
    Supply,

    /// <summary>The pump itself, what is on it and what its orders bring.</summary>
    Pump,
}

/// <summary>
/// Does this kit suit this pump? Eleven checks per kit, always all of them and in the order of <see cref="Check"/>. What a
/// kit does not call for is passed; what it calls for and the record cannot answer is unknown.
/// </summary>
public static class Suitability
{
    /// <summary>Shown wherever results are shown.</summary>
    public const string Notice = "Compares recorded data only; the installation is judged by qualified people under local codes.";

    public const string BondingCaution = "Flammable fluid: bond and ground the pump, hoses and containers before running.";

    public static IReadOnlyList<Judgement> Judge(SuitabilityFacts facts) =>
    [
        .. from kit in facts.Kits
           from check in Enum.GetValues<Check>()
           select new Judgement(check, kit.Kit, JudgeOne(check, kit, facts)),
    ];

    /// <summary>What the check looks at. Every one looks at the entry for the pump's model as well, but for that of shelf life.</summary>
    public static LooksAt At(Check check) => check switch
    {
        Check.ShelfLife => LooksAt.NothingElse,
        Check.Model or Check.Control or Check.Ports => LooksAt.Model,
        Check.Area or Check.Materials => LooksAt.Place,
        Check.Voltage => LooksAt.Supply,
        _ => LooksAt.Pump,
    };

    /// <summary>One check of one of the kits of <paramref name="facts"/>; its words are put together when they are read.</summary>
    public static Finding JudgeOne(Check check, KitFacts kit, SuitabilityFacts facts) => (check, kit.Fit) switch
    {
        (Check.Model, _) => Model(kit, facts.Pump.Model),
        (Check.ShelfLife, _) => ShelfLife(kit, facts.FitOn),
        (_, null) => NotRecorded(kit, facts.Pump.Model),
        (Check.Control, { } fit) => ControlOf(fit, facts.Pump),
        (Check.SensingRod, { } fit) => SensingRod(fit, facts.Pump),
        (Check.Ports, { } fit) => Ports(fit, facts.Pump),
        (Check.Area, { } fit) => AreaCheck.Judge(fit.Coil.IsElectrical, fit.Marking, Area(facts.Position)),
        (Check.Voltage, { } fit) => VoltageCheck.Judge(fit.Coil, facts.Position.Supply),
        (Check.Materials, { } fit) => Materials(fit, facts.Position.Fluid),
        (Check.Prerequisites, { } fit) => Companions.Prerequisites(kit, fit, facts),
        (Check.Exclusions, { } fit) => Companions.Exclusions(kit, fit, facts),
        (Check.AlreadyFitted, { } fit) => AlreadyFitted(kit, fit, facts.Pump),
        _ => throw new ArgumentOutOfRangeException(nameof(check), check, "Not one of the eleven checks."),
    };

    static Finding Model(KitFacts kit, string model) => kit.Fit is null
        ? Finding.Failed(() => $"{Named(kit)} has no entry for model {model}.")
        : Finding.Passed(() => $"{Named(kit)} fits model {model}.");

    static Finding NotRecorded(KitFacts kit, string model) =>
        Finding.Unknown(() => $"{Named(kit)} has no entry for model {model}, so what it calls for is not recorded.") with { Answerable = false };

    static AreaFacts Area(PositionFacts position) =>
        new(position.Zone, position.ExGroup, position.TemperatureClass, position.Fluid?.IgnitionC);

    static Finding ControlOf(FitFacts fit, PumpFacts pump)
    {
        if (fit.ConvertsTo is not { } target)
        {
            return Finding.DoesNotApply("the kit does not convert the pump.");
        }

        if (fit.FromControl is { } from && pump.Control is { } now && from != now)
        {
            return Finding.Failed(() => $"The kit converts from {Named(from)}, the pump is on {Named(now)}.");
        }

        if (fit.FromControl is { } before && before == fit.ToControl)
        {
            return Finding.Failed(() => $"The kit converts to {target}, which is on {Named(before)} as this model is: nothing would change.");
        }

        return fit.FromControl is null || pump.Control is null || fit.ToControl is null
            ? Finding.Unknown(() => $"Not recorded: {Missing((pump.Control is null, "the pump's control"), (fit.FromControl is null, "the control the kit converts from"), (fit.ToControl is null, $"the control of {target}"))}.")
            : Finding.Passed(() => $"Converts from {Named(fit.FromControl.Value)} to {Named(fit.ToControl.Value)} ({target}).");
    }

    static Finding SensingRod(FitFacts fit, PumpFacts pump) => (fit.NeedsSensingRod, pump.SensingRod) switch
    {
        (false, _) => Finding.DoesNotApply("the kit needs no sensing rod."),
        (true, true) => Finding.Passed("The pump has a sensing rod."),
        (true, false) => Finding.Failed(() => $"The kit needs a sensing rod, the pump has none{CanBeHad(pump)}."),
        (true, null) => Finding.Unknown(() => $"The kit needs a sensing rod; whether this pump has one is not recorded{CanBeHad(pump)}."),
    };

    static string CanBeHad(PumpFacts pump) => pump.ModelTakesSensingRod switch
    {
        true => $" (model {pump.Model} can be had with one)",
        false => $" (model {pump.Model} cannot be had with one)",
        null => "",
    };

    static Finding Ports(FitFacts fit, PumpFacts pump)
    {
        if (fit.Ports.Count == 0)
        {
            return Finding.DoesNotApply("the kit uses no port.");
        }

        var found = fit.Ports.Select(wanted => PortList.Find(pump.Ports, wanted.Name) is { } port
            ? Mate(wanted.Name, PipeThread.Mate(port.Thread, wanted.Thread))
            : (Result: CheckResult.Unknown, Why: () => $"Port {wanted.Name}: model {pump.Model} has no port of that name on record")).ToList();
        var worst = found.Any(f => f.Result == CheckResult.Failed) ? CheckResult.Failed
            : found.Any(f => f.Result == CheckResult.Unknown) ? CheckResult.Unknown
            : CheckResult.Passed;
        var numbers = new Dictionary<string, decimal> { ["ports"] = found.Count, ["mating"] = found.Count(f => f.Result == CheckResult.Passed) };
        return Finding.Of(worst, () => string.Join(" ", found.Where(f => f.Result == worst).Select(f => f.Why() + ".")), numbers) with { Answerable = worst == CheckResult.Unknown };
    }

    static (CheckResult Result, Func<string> Why) Mate(string port, Mated mated) => (mated.Result switch
    {
        Mating.Mates => CheckResult.Passed,
        Mating.DoesNot => CheckResult.Failed,
        _ => CheckResult.Unknown,
    }, () => $"Port {port}: {mated.Why}");

    static Finding Materials(FitFacts fit, FluidFacts? fluid)
    {
        var caution = fluid?.NeedsBonding == true ? BondingCaution : null;
        if (fit.Materials.Count == 0)
        {
            return Finding.DoesNotApply("the kit names no wetted material.") with { Caution = caution };
        }

        if (fluid is null)
        {
            return Finding.Unknown(() => $"The fluid is not recorded; the kit brings {string.Join(", ", fit.Materials)} into contact with it.");
        }

        var refused = fit.Materials.Where(m => fluid.Refused.Contains(m, StringComparer.OrdinalIgnoreCase)).ToList();
        var open = fit.Materials.Except(fluid.Approved, StringComparer.OrdinalIgnoreCase).ToList();
        var finding = refused.Count > 0 ? Finding.Failed(() => $"The plant refuses {string.Join(", ", refused)} for {fluid.Fluid}.")
            : open.Count > 0 ? Finding.Unknown(() => $"The plant has neither approved nor refused {string.Join(", ", open)} for {fluid.Fluid}.")
            : Finding.Passed(() => $"The plant approves {string.Join(", ", fit.Materials)} for {fluid.Fluid}.");
        return finding with { Caution = caution };
    }

    static Finding AlreadyFitted(KitFacts kit, FitFacts fit, PumpFacts pump) =>
        !fit.Once ? Finding.DoesNotApply("the kit may be fitted again.")
        : pump.Fitted.Contains(kit.Kit, StringComparer.OrdinalIgnoreCase) ? Finding.Failed(() => $"{kit.Kit} is fitted already and can be fitted only once.")
        : Finding.Passed(() => $"{kit.Kit} is not fitted yet.");

    static Finding ShelfLife(KitFacts kit, DateOnly fitOn)
    {
        var absent = kit.PartsNotOnHand > 0 ? $" {kit.PartsNotOnHand} parts are not on hand and are not judged." : "";
        if (kit.Lots.Where(l => l.Quarantined).ToList() is { Count: > 0 } quarantined)
        {
            return Finding.Failed(() => $"In quarantine: {string.Join(", ", quarantined.Select(l => $"{l.Part} lot {l.Lot}"))}. Give it back and pick another lot.{absent}");
        }

        var ageing = kit.Lots.Where(l => l.Ages || l.ExpiresOn is not null).ToList();
        if (ageing.Count == 0)
        {
            return Finding.Passed(() => $"Does not apply: no lot on hand for it ages.{absent}");
        }

        var dated = ageing.Where(l => l.ExpiresOn is not null).OrderBy(l => l.ExpiresOn).ToList();
        var numbers = new Dictionary<string, decimal> { ["lots"] = ageing.Count };
        if (dated is [{ ExpiresOn: { } first }, ..])
        {
            numbers["daysLeft"] = first.DayNumber - fitOn.DayNumber;
        }

        var expired = dated.Where(l => l.ExpiresOn < fitOn).ToList();
        var undated = ageing.Where(l => l.ExpiresOn is null).ToList();
        return expired.Count > 0 ? Finding.Failed(() => $"Past their shelf life on {Iso(fitOn)}: {string.Join(", ", expired.Select(l => $"{l.Part} lot {l.Lot}, last good day {Iso(l.ExpiresOn!.Value)}"))}.{absent}", numbers)
            : undated.Count > 0 ? Finding.Unknown(() => $"The last good day is not known of {string.Join(", ", undated.Select(l => $"{l.Part} lot {l.Lot}"))}.{absent}", numbers)
            : Finding.Passed(() => $"Good on {Iso(fitOn)}; the first to expire is {dated[0].Part} lot {dated[0].Lot}, last good day {Iso(dated[0].ExpiresOn!.Value)}.{absent}", numbers);
    }

    static string Missing(params (bool Absent, string What)[] facts) => string.Join(", ", facts.Where(f => f.Absent).Select(f => f.What));

    static string Named(KitFacts kit) => string.Create(CultureInfo.InvariantCulture, $"{kit.Kit} revision {kit.Revision}");

    static string Named(Control control) => control == Control.PilotAir ? "pilot air" : "solenoid";

    static string Iso(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}

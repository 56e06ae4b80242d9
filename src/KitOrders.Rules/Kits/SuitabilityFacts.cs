using KitOrders.Rules.Pumps;

namespace KitOrders.Rules.Kits;

/// <summary>What is on record when an order's kits are judged against one pump where it stands. Null means not recorded.</summary>
public sealed record SuitabilityFacts
{
    public required PumpFacts Pump { get; init; }

    public required PositionFacts Position { get; init; }

    /// <summary>The order's kits in the order's order; assemblies inside them are not judged.</summary>
    public required IReadOnlyList<KitFacts> Kits { get; init; }

    /// <summary>
    /// Other orders of the same pump that are not closed or cancelled. When the order starts, only those whose work is
    /// finished: what passed on condition is then judged by what is in the pump.
    /// </summary>
    public IReadOnlyList<OtherOrderFacts> OtherOrders { get; init; } = [];

    /// <summary>The planned fit date; where none is given, the needed-by date.</summary>
    public required DateOnly FitOn { get; init; }
}

/// <param name="SensingRod">The pump's own record: has it a rod machined for a stroke sensor?</param>
/// <param name="ModelTakesSensingRod">Can the model be had with one?</param>
/// <param name="Ports">The model's ports.</param>
/// <param name="Fitted">Numbers of the kits fitted now.</param>
public sealed record PumpFacts(
    string Model,
    Control? Control,
    bool? SensingRod,
    bool? ModelTakesSensingRod,
    IReadOnlyList<Port> Ports,
    IReadOnlyList<string> Fitted);

public sealed record PositionFacts(Zone? Zone, string? ExGroup, string? TemperatureClass, SupplyFacts Supply, FluidFacts? Fluid);

/// <param name="IgnitionC">Ignition temperature, °C, where known.</param>
/// <param name="Bonding">Does the plant ask for bonding and grounding with this fluid?</param>
public sealed record FluidFacts(string Fluid, IReadOnlyList<string> Approved, IReadOnlyList<string> Refused, decimal? IgnitionC, bool? Bonding)
{
    /// <summary>As the plant recorded it; where it did not, a fluid with an ignition temperature is taken as flammable.</summary>
    public bool NeedsBonding => Bonding ?? IgnitionC is not null;
}

/// <param name="Fit">The kit revision's row for the pump's model; null when there is none.</param>
/// <param name="Lots">The lots that are or would be reserved or picked for this kit.</param>
/// <param name="PartsNotOnHand">Parts of the kit no lot was found for; they are not judged.</param>
public sealed record KitFacts(string Kit, int Revision, FitFacts? Fit, IReadOnlyList<LotFacts> Lots, int PartsNotOnHand);

/// <summary>One row of <c>fits</c>: what a kit revision calls for on one pump model. Empty lists and nulls call for nothing.</summary>
public sealed record FitFacts
{
    /// <summary>The control of the row's model, which the kit converts from.</summary>
    public Control? FromControl { get; init; }

    public string? ConvertsTo { get; init; }

    /// <summary>The control of the model it converts to.</summary>
    public Control? ToControl { get; init; }

    public bool NeedsSensingRod { get; init; }

    /// <summary>For each port of the pump, the thread of the fitting that goes in.</summary>
    public IReadOnlyList<Port> Ports { get; init; } = [];

    public CoilFacts Coil { get; init; } = new(null, null, null, null);

    public string? ExMarking
    {
        get => Marking?.Text;
        init => Marking = MarkingRead.Of(value);
    }

    /// <summary>The marking as it was read, once for all the areas it is held against.</summary>
    public MarkingRead? Marking { get; private init; }

    public IReadOnlyList<string> Materials { get; init; } = [];

    /// <summary>May be fitted to a pump only once.</summary>
    public bool Once { get; init; }

    public IReadOnlyList<string> Requires { get; init; } = [];

    public IReadOnlyList<string> Excludes { get; init; } = [];
}

/// <param name="ExpiresOn">The last good day; null with <paramref name="Ages"/> means that it is not known.</param>
/// <param name="Ages">Has the part elastomers that age?</param>
public sealed record LotFacts(string Part, string Lot, DateOnly? ExpiresOn, bool Ages)
{
    /// <summary>Put in quarantine after it was picked; before that it would be held for nobody.</summary>
    public bool Quarantined { get; init; }
}

public sealed record OtherOrderFacts(string Order, DateOnly FitOn, IReadOnlyList<string> Kits);

/// <summary>One check of one kit.</summary>
public sealed record Judgement(Check Check, string Kit, Finding Finding)
{
    public CheckResult Result => Finding.Result;

    public string Reason => Finding.Reason;
}

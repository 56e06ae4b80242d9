namespace KitOrders.Rules.Procedures;

/// <summary>The three parts of a procedure: make safe and gather; do; prove and hand back.</summary>
public enum PartOf
{
    Preliminary,
    Main,
    CloseUp,
}

public enum StepKind
{
    Instruction,
    Check,
    Reading,
    Torque,
    CarryOver,
    FunctionTest,
    Photograph,
}

/// <summary>Signal words as ANSI Z535 uses them, the gravest first.</summary>
public enum SignalWord
{
    Danger,
    Warning,
    Caution,
    Notice,
}

/// <summary>The order in which the bolts of a joint are tightened.</summary>
public enum BoltSequence
{
    Alternate,
    Star,
    Round,
}

public enum StepOutcome
{
    AsSpecified,
    NotAsSpecified,
    NotApplicable,
}

/// <summary>What is decided about a part kept from the pump.</summary>
public enum CarryOverDecision
{
    Reuse,
    Replace,
}

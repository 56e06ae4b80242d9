namespace KitOrders.Web.Shared;

public enum StripStatus
{
    Ahead,
    Now,
    Done,
}

/// <summary>A step on the strip.</summary>
public sealed record StripStep(int Number, StripStatus Status)
{
    /// <summary>A hold point stands after this step.</summary>
    public bool HoldAfter { get; init; }

    /// <summary>That hold point has been released.</summary>
    public bool HoldReleased { get; init; }
}

/// <summary>Preliminary, Main or Close-up with its steps.</summary>
public sealed record StripPart(string Heading, IReadOnlyList<StripStep> Steps);

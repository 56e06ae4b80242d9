namespace KitOrders.Rules.Pumps;

/// <summary>
/// Outside diameters in mm by nominal size. NPT: the pipe's outside diameter of ASME B1.20.1 (printed in inches, here × 25.4).
/// BSP: the major diameter of ISO 7-1 and ISO 228-1.
/// </summary>
public static class ThreadSizes
{
    static readonly Dictionary<string, decimal> Npt = new()
    {
        ["1/16"] = 0.3125m * 25.4m,
        ["1/8"] = 0.405m * 25.4m,
        ["1/4"] = 0.540m * 25.4m,
        ["3/8"] = 0.675m * 25.4m,
        ["1/2"] = 0.840m * 25.4m,
        ["3/4"] = 1.050m * 25.4m,
        ["1"] = 1.315m * 25.4m,
        ["1-1/4"] = 1.660m * 25.4m,
        ["1-1/2"] = 1.900m * 25.4m,
        ["2"] = 2.375m * 25.4m,
        ["2-1/2"] = 2.875m * 25.4m,
        ["3"] = 3.500m * 25.4m,
        ["4"] = 4.500m * 25.4m,
    };

    static readonly Dictionary<string, decimal> Bsp = new()
    {
        ["1/16"] = 7.723m,
        ["1/8"] = 9.728m,
        ["1/4"] = 13.157m,
        ["3/8"] = 16.662m,
        ["1/2"] = 20.955m,
        ["5/8"] = 22.911m,
        ["3/4"] = 26.441m,
        ["1"] = 33.249m,
        ["1-1/4"] = 41.910m,
        ["1-1/2"] = 47.803m,
        ["2"] = 59.614m,
        ["2-1/2"] = 75.184m,
        ["3"] = 87.884m,
        ["4"] = 113.030m,
    };

    /// <summary>Coarse pitch in mm by diameter (ISO 261): the one that is meant when a designation names none.</summary>
    public static IReadOnlyDictionary<decimal, decimal> CoarsePitchMm { get; } = new Dictionary<decimal, decimal>
    {
        [3] = 0.5m,
        [4] = 0.7m,
        [5] = 0.8m,
        [6] = 1m,
        [8] = 1.25m,
        [10] = 1.5m,
        [12] = 1.75m,
        [14] = 2m,
        [16] = 2m,
        [20] = 2.5m,
        [24] = 3m,
        [30] = 3.5m,
        [36] = 4m,
    };

    /// <summary>The pipe sizes of the standard; a metric thread is not sized by pipe and asking is a bug.</summary>
    public static IReadOnlyDictionary<string, decimal> Pipe(ThreadStandard standard) => standard switch
    {
        ThreadStandard.Npt => Npt,
        ThreadStandard.Bspt or ThreadStandard.Bspp => Bsp,
        _ => throw new ArgumentOutOfRangeException(nameof(standard), standard, "Not a pipe thread."),
    };
}

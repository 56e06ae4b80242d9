namespace KitOrders.Benchmarks;

/// <summary>What was measured in one stretch, or in several taken together.</summary>
/// <param name="Waits">Milliseconds from the call to the answer, one per order.</param>
sealed record Slice(IReadOnlyList<double> Waits, Meter Used, double Seconds, int Retries)
{
    public int Orders => Waits.Count;
    public double PerSecond => Orders / Seconds;
    public double P50 => Percentile(0.50);
    public double P99 => Percentile(0.99);
    public double ServerMs => Used.Server * 1000 / Orders;
    public double ClientMs => Used.Client * 1000 / Orders;
    public double WalKb => Used.Wal / 1024.0 / Orders;

    public static Slice Of(IReadOnlyCollection<Slice> slices) => new(
        [.. slices.SelectMany(s => s.Waits)],
        new Meter(slices.Sum(s => s.Used.Server), slices.Sum(s => s.Used.Client), slices.Sum(s => s.Used.Busy), slices.Sum(s => s.Used.Wal),
            slices.Sum(s => s.Used.Deadlocks), slices.Sum(s => s.Used.At)),
        slices.Sum(s => s.Seconds), slices.Sum(s => s.Retries));

    /// <summary>The smallest wait that the share of all waits does not exceed.</summary>
    public double Percentile(double share)
    {
        if (Waits.Count == 0)
        {
            return double.NaN;
        }

        var sorted = Waits.Order().ToList();
        return sorted[Math.Clamp((int)Math.Ceiling(share * sorted.Count) - 1, 0, sorted.Count - 1)];
    }
}

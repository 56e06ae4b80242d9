namespace KitOrders.Rules.Kits;

/// <summary>How many spares are held for parts kept from the pump of which some will be rejected.</summary>
public static class SpareCount
{
    /// <summary>How many earlier decisions the set rate weighs as much as (common practice, no source).</summary>
    public const int WeightOfSetRate = 20;

    // Rounding of the binomial sum must not turn "exactly the risk" into "above the risk".
    const double Slack = 1e-9;

    /// <summary>(rejected so far + 20 × set rate) / (decisions so far + 20) (common practice, no source).</summary>
    /// <param name="setRate">0 to 1.</param>
    public static decimal Rate(int rejected, int decisions, decimal setRate)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(rejected);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(rejected, decisions);
        ThrowIfNoProbability(setRate);
        return (rejected + (WeightOfSetRate * setRate)) / (decisions + WeightOfSetRate);
    }

    /// <summary>The smallest k with P(more than k of n are rejected) ≤ risk, each rejected with the same rate independently (binomial).</summary>
    /// <param name="n">Parts carried over, 0 or more.</param>
    /// <param name="rate">0 to 1.</param>
    /// <param name="risk">0 to 1.</param>
    public static long Hold(long n, decimal rate, decimal risk)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(n);
        ThrowIfNoProbability(rate);
        ThrowIfNoProbability(risk);
        if (rate == 0 || risk == 1)
        {
            return 0;
        }

        if (rate == 1 || risk == 0)
        {
            return n;
        }

        var (lowest, weights) = Weights(n, (double)rate);
        var limit = (double)risk * weights.Sum() * (1 + Slack);
        var tail = 0.0;
        var k = lowest + weights.Count - 1;
        while (k > 0 && k >= lowest && tail + weights[(int)(k - lowest)] <= limit)
        {
            tail += weights[(int)(k - lowest)];
            k--;
        }

        return Math.Max(k, 0);
    }

    // Probabilities of consecutive counts, scaled to 1 at the likeliest: (1 − rate)^n itself would be zero in a double for large n.
    static (long Lowest, List<double> Weights) Weights(long n, double rate)
    {
        const double negligible = 1e-30;
        var odds = rate / (1 - rate);
        var mode = Math.Min(n, (long)Math.Floor((n + 1) * rate));
        var below = new List<double>();
        for (double k = mode, w = 1; k > 0; k--)
        {
            w *= k / (n - k + 1) / odds;
            if (w < negligible)
            {
                break;
            }

            below.Add(w);
        }

        below.Reverse();
        var weights = below;
        var lowest = mode - below.Count;
        weights.Add(1);
        for (double k = mode, w = 1; k < n; k++)
        {
            w *= (n - k) / (k + 1) * odds;
            if (w < negligible)
            {
                break;
            }

            weights.Add(w);
        }

        return (lowest, weights);
    }

    static void ThrowIfNoProbability(decimal value)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(value);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(value, 1);
    }
}

namespace KitOrders.Rules.Procedures;

/// <summary>
/// Where each bolt of a round joint sits. Bolts are numbered in tightening order: bolt 1 first. Positions count clockwise
/// from the top, 0 to n − 1.
/// </summary>
public static class BoltPattern
{
    /// <summary>
    /// Position of bolt 1, bolt 2 … in tightening order; each position once.
    /// Star and alternate: bolts 1 and 2, 3 and 4 … lie opposite for an even count. Star spreads its pairs, so that for a count
    /// divisible by 4 the first four bolts are the quarter points; alternate takes the pairs one after the other round the
    /// joint. Odd counts step to the bolt nearest to opposite. Round goes from neighbour to neighbour.
    /// </summary>
    public static IReadOnlyList<int> Positions(int bolts, BoltSequence sequence)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(bolts, 1);
        var half = bolts / 2;
        return (sequence, bolts % 2) switch
        {
            (BoltSequence.Round, _) => [.. Enumerable.Range(0, bolts)],
            (BoltSequence.Star, 0) => [.. SpreadOverHalf(half).SelectMany(p => new[] { p, p + half })],
            (BoltSequence.Star, _) => [.. Enumerable.Range(0, bolts).Select(k => bolts == 1 ? 0 : k * half % bolts)],
            (_, 0) => [.. Enumerable.Range(0, half).SelectMany(p => new[] { p, p + half })],
            _ => [.. Enumerable.Range(0, half).SelectMany(p => new[] { p, p + half + 1 }), half],
        };
    }

    /// <summary>Degrees clockwise from the top at which a bolt is drawn.</summary>
    /// <param name="bolt">Number in tightening order, from 1.</param>
    public static decimal Angle(int bolt, int bolts, BoltSequence sequence) => 360m * Positions(bolts, sequence)[bolt - 1] / bolts;

    /// <summary>The pairs' first positions: a pair and the pair square to it where there is one, then each as far as can be from those before.</summary>
    static IEnumerable<int> SpreadOverHalf(int half)
    {
        if (half % 2 != 0)
        {
            return FarthestFirst(half);
        }

        var quarter = half / 2;
        return FarthestFirst(quarter).SelectMany(p => new[] { p, p + quarter });
    }

    /// <summary>0 … n − 1 on a ring, each next one as far as possible from all taken; the lowest of equals.</summary>
    static List<int> FarthestFirst(int n)
    {
        List<int> taken = [0];
        while (taken.Count < n)
        {
            taken.Add(Enumerable.Range(0, n).Except(taken).MaxBy(p => taken.Min(t => Math.Min(Math.Abs(p - t), n - Math.Abs(p - t)))));
        }

        return taken;
    }
}

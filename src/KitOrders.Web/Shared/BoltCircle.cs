namespace KitOrders.Web.Shared;

/// <summary>Where the bolts of a joint lie on the drawing, in a square of 340, position 0 at the top, then clockwise.</summary>
public static class BoltCircle
{
    const double Centre = 170, Radius = 118;

    public readonly record struct Spot(int Turn, double X, double Y);

    /// <param name="positions">Position on the circle of the bolt that is tightened first, second, and so on, as the rule of the pattern gives them.</param>
    public static IReadOnlyList<Spot> Spots(IReadOnlyList<int> positions)
    {
        if (!positions.Order().SequenceEqual(Enumerable.Range(0, positions.Count)))
        {
            throw new ArgumentException($"{string.Join(", ", positions)} does not name every position once", nameof(positions));
        }

        return [.. positions.Select((position, i) => At(i + 1, position, positions.Count))];
    }

    static Spot At(int turn, int position, int of)
    {
        var angle = 2 * Math.PI * position / of;
        return new Spot(turn, Math.Round(Centre + Radius * Math.Sin(angle), 1), Math.Round(Centre - Radius * Math.Cos(angle), 1));
    }

    /// <summary>Bolts shrink so that they do not touch: 27 for up to six, and never under 11.</summary>
    public static double BoltRadius(int bolts) =>
        bolts < 2 ? 27 : Math.Round(Math.Clamp(Radius * Math.Sin(Math.PI / bolts) * .46, 11, 27), 1);
}

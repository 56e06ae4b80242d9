namespace KitOrders.Rules.Orders;

/// <summary>What the rank of an order depends on.</summary>
/// <param name="OpenedAt">Null: not opened yet; such an order ranks after an opened one of the same score and needed-by date.</param>
public sealed record Priority(string Number, int Criticality, int WorkClass, DateOnly NeededBy, DateTimeOffset? OpenedAt)
    : IComparable<Priority>
{
    public const int Lowest = 1;
    public const int Highest = 10;

    /// <summary>The most pressing order is the first. For <c>OrderBy</c>.</summary>
    public static readonly IComparer<Priority> MostPressingFirst = Comparer<Priority>.Default;

    /// <summary>1 to 100; see <see cref="ScoreOf"/>.</summary>
    public int Score => ScoreOf(Criticality, WorkClass);

    /// <summary>
    /// Criticality of the position × work class, each 1 to 10, 10 the most pressing: the two-factor maintenance ranking of the
    /// trade (common practice).
    /// </summary>
    public static int ScoreOf(int criticality, int workClass)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(criticality, Lowest);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(criticality, Highest);
        ArgumentOutOfRangeException.ThrowIfLessThan(workClass, Lowest);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(workClass, Highest);
        return criticality * workClass;
    }

    /// <summary>
    /// Higher score first; then earlier needed-by date, then earlier opened, then lower number. Digits within a number count as
    /// a number, so that WO-9 comes before WO-10.
    /// </summary>
    public int CompareTo(Priority? other)
    {
        ArgumentNullException.ThrowIfNull(other);
        var byScore = other.Score.CompareTo(Score);
        var byNeed = byScore != 0 ? byScore : NeededBy.CompareTo(other.NeededBy);
        var byOpening = byNeed != 0 ? byNeed : (OpenedAt ?? DateTimeOffset.MaxValue).CompareTo(other.OpenedAt ?? DateTimeOffset.MaxValue);
        return byOpening != 0 ? byOpening : CompareNumbers(Number, other.Number);
    }

    public static bool operator <(Priority left, Priority right) => left.CompareTo(right) < 0;

    public static bool operator <=(Priority left, Priority right) => left.CompareTo(right) <= 0;

    public static bool operator >(Priority left, Priority right) => left.CompareTo(right) > 0;

    public static bool operator >=(Priority left, Priority right) => left.CompareTo(right) >= 0;

    static int CompareNumbers(string one, string other)
    {
        int i = 0, j = 0;
        while (i < one.Length && j < other.Length)
        {
            var a = Piece(one, i);
            var b = Piece(other, j);
            var digits = char.IsAsciiDigit(one[i]) && char.IsAsciiDigit(other[j]);
            var x = digits ? a.TrimStart('0') : a;
            var y = digits ? b.TrimStart('0') : b;
            var difference = digits && x.Length != y.Length ? x.Length - y.Length : x.SequenceCompareTo(y);
            if (difference != 0)
            {
                return difference;
            }

            i += a.Length;
            j += b.Length;
        }

        var byLength = (one.Length - i).CompareTo(other.Length - j);
        return byLength != 0 ? byLength : string.CompareOrdinal(one, other);
    }

    // A run of digits, or one other character.
    static ReadOnlySpan<char> Piece(string text, int from)
    {
        var to = from + 1;
        while (char.IsAsciiDigit(text[from]) && to < text.Length && char.IsAsciiDigit(text[to]))
        {
            to++;
        }

        return text.AsSpan(from, to - from);
    }
}

namespace KitOrders.Web.Shared;

/// <summary>What stands behind a needed piece, the surest first.</summary>
public enum Covered
{
    Picked,
    Reserved,

    /// <summary>Promised by a purchase; still short until it is received.</summary>
    Incoming,
    Short,
}

/// <summary>One cell of a coverage bar: a piece, or all pieces of one kind.</summary>
public readonly record struct CoverageCell(Covered By, decimal Width);

/// <summary>
/// A line's quantities as they are drawn. Required = picked + reserved + short; <paramref name="Incoming"/> is how much
/// of what is short has been promised, so it takes its cells from the short ones.
/// </summary>
public readonly record struct Coverage(decimal Picked, decimal Reserved, decimal Short, decimal Incoming)
{
    /// <summary>Up to this many pieces the bar has a cell a piece.</summary>
    public const int MostPieces = 12;

    decimal Promised => Math.Clamp(Incoming, 0, Short);

    public decimal Required => Picked + Reserved + Short;

    (Covered By, decimal Quantity)[] Kinds =>
        [(Covered.Picked, Picked), (Covered.Reserved, Reserved), (Covered.Incoming, Promised), (Covered.Short, Short - Promised)];

    /// <summary>A cell a piece for up to twelve whole pieces; over that, or for parts of a piece, a cell a kind by quantity.</summary>
    public IReadOnlyList<CoverageCell> Cells()
    {
        var kinds = Kinds.Where(k => k.Quantity > 0).ToArray();
        var apiece = Required <= MostPieces && kinds.All(k => decimal.IsInteger(k.Quantity));
        return apiece
            ? [.. kinds.SelectMany(k => Enumerable.Repeat(new CoverageCell(k.By, 1), (int)k.Quantity))]
            : [.. kinds.Select(k => new CoverageCell(k.By, k.Quantity))];
    }

    /// <summary>"4 needed: 1 picked, 1 reserved, 2 short, 1 of them promised".</summary>
    public string InWords(string? unit = null)
    {
        var parts = new List<string>();
        Say(Picked, "picked");
        Say(Reserved, "reserved");
        Say(Short, Promised == 0 ? "short" : Promised == Short ? "short, promised" : $"short, {Figures.Quantity(Promised)} of them promised");
        var unitWord = unit is null ? "" : " " + unit;
        return $"{Figures.Quantity(Required)}{unitWord} needed: {(parts.Count == 0 ? "nothing" : string.Join(", ", parts))}";

        void Say(decimal quantity, string word)
        {
            if (quantity > 0)
            {
                parts.Add($"{Figures.Quantity(quantity)} {word}");
            }
        }
    }
}

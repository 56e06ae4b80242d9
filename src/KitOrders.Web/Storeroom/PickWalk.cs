using KitOrders.Operations.Stock;
using KitOrders.Rules.Parts;
using KitOrders.Web.Shared;

namespace KitOrders.Web.Storeroom;

/// <summary>The answer to a scan, in words.</summary>
/// <param name="Reason">Why it was refused, in two or three words; null when it was accepted.</param>
sealed record ScanAnswer(string? Reason, string Sentence)
{
    public bool Accepted => Reason is null;
}

/// <summary>How much goes to one reservation.</summary>
sealed record PiecesFor(RunPiece Piece, decimal Quantity);

/// <summary>
/// A run as it is walked: one line at a time, every piece scanned. It decides what a scan means; what is recorded is decided
/// by the operation once the line is full or said to be short.
/// </summary>
sealed class PickWalk
{
    bool lotSeen;

    public PickWalk(PickRunView run)
    {
        Run = run;
        Index = Enumerable.Range(0, run.Lines.Count).FirstOrDefault(n => run.Lines[n].Held > 0, run.Lines.Count);
    }

    public PickRunView Run { get; }

    public int Index { get; }

    public RunLine? Line => Index < Run.Lines.Count ? Run.Lines[Index] : null;

    /// <summary>Of the line before us, in the part's unit.</summary>
    public decimal Scanned { get; private set; }

    public decimal Left => Line is { } line ? line.Held - Scanned : 0;

    public bool Full => Line is not null && Left == 0;

    public int Done => Run.Lines.Count(l => l.Held == 0);

    /// <summary>The order whose tote the next piece goes to: the most pressing one that still wants some.</summary>
    public RunPiece? Next
    {
        get
        {
            var before = 0m;
            foreach (var piece in Line?.Pieces ?? [])
            {
                before += piece.Held;
                if (piece.Held > 0 && Scanned < before)
                    return piece;
            }
            return null;
        }
    }

    public ScanAnswer Scan(string text)
    {
        var code = text.Trim();
        if (Line is not { } line)
            return new("nothing to pick", $"Scanned {code}. Every line of this run is picked.");
        if (Same(code, line.Bin))
            return new(null, $"Bin {line.Bin} is the right one. Now scan the {(line.LotsHere > 1 ? "lot" : "part")}.");
        var isLot = Same(code, line.Lot);
        if (!isLot && !Same(code, line.Part) && !Same(code, line.Barcode))
            return Wrong(code, line);
        if (Left == 0)
            return new("too many", $"{Amount(line, line.Held)} of {line.Part} are wanted here and all are scanned. Put this one back.");
        lotSeen |= isLot;
        if (line.LotsHere > 1 && !lotSeen)
            return new("which lot?", $"{line.LotsHere} lots of {line.Part} lie in this bin. Scan the lot {line.Lot} on the bag. Nothing was counted.");
        var to = Next!;
        Scanned += line.Unit.IsCounted() ? Math.Min(1, Left) : Left;
        return new(null, $"{line.Part}, lot {line.Lot}, to {to.Order}, tote {to.Tote}");
    }

    /// <summary>A quantity said by hand, where the label cannot be scanned.</summary>
    public ScanAnswer Say(decimal quantity)
    {
        if (Line is not { } line)
            return new("nothing to pick", "Every line of this run is picked.");
        if (quantity <= 0 || (line.Unit.IsCounted() && quantity != decimal.Truncate(quantity)))
            return new("no quantity", $"{Figures.Quantity(quantity)} is no quantity of {line.Part}.");
        if (quantity > Left)
            return new("too many", $"{Figures.Quantity(Left)} are still wanted, not {Figures.Quantity(quantity)}. Nothing was counted.");
        Scanned += quantity;
        return new(null, $"{Amount(line, quantity)} of {line.Part}, lot {line.Lot}, counted by hand");
    }

    /// <summary>Puts the last piece back.</summary>
    public ScanAnswer Undo()
    {
        if (Scanned == 0 || Line is not { } line)
            return new("nothing to put back", "No piece of this line has been scanned.");
        Scanned = line.Unit.IsCounted() ? Scanned - 1 : 0;
        return new(null, $"One put back. {Figures.Quantity(Scanned)} of {Figures.Quantity(line.Held)} scanned.");
    }

    /// <summary>What was scanned, dealt to the orders, the most pressing first; what is missing falls on the last.</summary>
    public IReadOnlyList<PiecesFor> Dealt()
    {
        var left = Scanned;
        var dealt = new List<PiecesFor>();
        foreach (var piece in Line?.Pieces.Where(p => p.Held > 0) ?? [])
        {
            var quantity = Math.Min(left, piece.Held);
            left -= quantity;
            dealt.Add(new PiecesFor(piece, quantity));
        }
        return dealt;
    }

    ScanAnswer Wrong(string code, RunLine line)
    {
        if (line.OtherLots.FirstOrDefault(l => Same(code, l)) is { } lot)
            return new("wrong lot", $"Scanned {lot}. Reserved is {line.Lot}{(line.ExpiresOn is null ? "" : ": it expires first")}. Nothing was counted.");
        if (Run.Lines.FirstOrDefault(l => Same(code, l.Part) || Same(code, l.Barcode) || Same(code, l.Lot)) is { } other)
            return new("wrong part", $"Scanned {other.Part}, {other.Description}. Wanted here is {line.Part}. Nothing was counted.");
        if (Run.Lines.FirstOrDefault(l => Same(code, l.Bin)) is { } bin)
            return new("wrong bin", $"Scanned bin {bin.Bin}. Go to bin {line.Bin}.");
        return new("wrong part", $"Scanned {code}, which is not part {line.Part} nor its lot {line.Lot}. Put it back. Nothing was counted.");
    }

    static string Amount(RunLine line, decimal quantity) => line.Unit.IsCounted() ? Figures.Quantity(quantity) : $"{Figures.Quantity(quantity)} {Rules.Word.Of(line.Unit)}";

    static bool Same(string code, string? label) => label is not null && code.Equals(label, StringComparison.OrdinalIgnoreCase);
}

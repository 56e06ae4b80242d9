using System.Globalization;
using System.Text;

namespace KitOrders.Benchmarks;

/// <summary>What was measured as tables, and what had to be reached with whether it was.</summary>
sealed class Report
{
    readonly StringBuilder text = new();
    readonly List<(string What, string Measured, string Wanted, bool Reached)> targets = [];

    public bool AllReached => targets.TrueForAll(t => t.Reached);

    public void Say(string line)
    {
        Console.WriteLine(line);
        text.AppendLine(line);
    }

    public void Head(string title, params string[] columns)
    {
        Say("");
        Say($"## {title}");
        Say("");
        Say("| " + string.Join(" | ", columns) + " |");
        Say("|" + string.Concat(columns.Select((_, n) => n == 0 ? "---|" : "---:|")));
    }

    public void Row(params object[] cells) => Say("| " + string.Join(" | ", cells.Select(Cell)) + " |");

    public void Most(string what, double measured, double most, string unit = "") => Target(what, measured, $"at most {Cell(most)}{unit}", measured <= most, unit);

    public void Least(string what, double measured, double least, string unit = "") => Target(what, measured, $"at least {Cell(least)}{unit}", measured >= least, unit);

    void Target(string what, double measured, string wanted, bool reached, string unit) => targets.Add((what, Cell(measured) + unit, wanted, reached));

    public void Targets()
    {
        Head("Targets", "what", "measured", "wanted", "");
        foreach (var (what, measured, wanted, reached) in targets)
        {
            Row(what, measured, wanted, reached ? "pass" : "MISS");
        }

        Say("");
        Say($"{targets.Count(t => t.Reached)} of {targets.Count} targets reached.");
    }

    public void Write(string file) => File.WriteAllText(file, text.ToString());

    static string Cell(object cell) => cell switch
    {
        double number => number.ToString(Math.Abs(number) >= 100 ? "0" : Math.Abs(number) >= 10 ? "0.0" : "0.00", CultureInfo.InvariantCulture),
        IFormattable other => other.ToString(null, CultureInfo.InvariantCulture),
        _ => cell.ToString() ?? "",
    };
}

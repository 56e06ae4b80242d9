using System.Globalization;
using System.Text;
using KitOrders.Operations.Stock;

namespace KitOrders.Web.Storeroom;

/// <summary>On hand of a part over the last months, as steps, with what is promised as a dashed line.</summary>
sealed class StockPlot
{
    const double Left = 40, Right = 914, Top = 24, Bottom = 138;

    readonly DateOnly from, today, to;

    StockPlot(DateOnly from, DateOnly today, DateOnly to, decimal most)
    {
        (this.from, this.today, this.to) = (from, today, to);
        Most = Ceiling(most);
    }

    public decimal Most { get; }

    public string Steps { get; private set; } = "";

    public string Promised { get; private set; } = "";

    public double TodayAt => X(today);

    public double TodayOn { get; private set; }

    public IReadOnlyList<(double X, string Text)> Months { get; private set; } = [];

    public IReadOnlyList<(double Y, string Text)> Levels => [.. new[] { 0m, Most / 2, Most }.Distinct().Select(l => (Y(l), l.ToString("0.##", CultureInfo.InvariantCulture)))];

    /// <param name="balances">Day and the part's balance after it, oldest first; the first stands for what was before.</param>
    /// <param name="promised">Day and the balance that it would make.</param>
    public static StockPlot Of(IReadOnlyList<(DateOnly Day, decimal After)> balances, decimal before, decimal now, IReadOnlyList<(DateOnly Day, decimal Quantity)> promised, DateOnly today, int days = 183)
    {
        var from = today.AddDays(-days);
        var last = promised.Count == 0 ? today : promised.Max(p => p.Day);
        var to = last > today.AddDays(20) ? (last > today.AddDays(60) ? today.AddDays(60) : last) : today.AddDays(20);
        var plot = new StockPlot(from, today, to, Math.Max(Math.Max(balances.Select(b => b.After).DefaultIfEmpty(0).Max(), before), now + promised.Sum(p => p.Quantity)));
        var path = new StringBuilder(string.Create(CultureInfo.InvariantCulture, $"M{Left} {plot.Y(before):0.#}"));
        foreach (var (day, after) in balances)
            path.Append(CultureInfo.InvariantCulture, $"H{plot.X(day):0.#}V{plot.Y(after):0.#}");
        path.Append(CultureInfo.InvariantCulture, $"H{plot.TodayAt:0.#}");
        plot.Steps = path.ToString();
        plot.TodayOn = plot.Y(now);
        if (promised.Count > 0)
        {
            var dash = new StringBuilder(string.Create(CultureInfo.InvariantCulture, $"M{plot.TodayAt:0.#} {plot.Y(now):0.#}"));
            foreach (var (day, quantity) in promised.OrderBy(p => p.Day).Where(p => p.Day <= to))
                dash.Append(CultureInfo.InvariantCulture, $"H{plot.X(day):0.#}V{plot.Y(now += quantity):0.#}");
            plot.Promised = dash.Append(CultureInfo.InvariantCulture, $"H{Right}").ToString();
        }
        var months = new List<(double, string)>();
        for (var month = new DateOnly(from.Year, from.Month, 1).AddMonths(1); month <= to; month = month.AddMonths(1))
            months.Add((plot.X(month), month.ToString("MMM", CultureInfo.InvariantCulture)));
        plot.Months = months;
        return plot;
    }

    public double Y(decimal level) => Bottom - ((double)(level / Most) * (Bottom - Top));

    double X(DateOnly day) => Left + (Math.Clamp((day.DayNumber - from.DayNumber) / (double)(to.DayNumber - from.DayNumber), 0, 1) * (Right - Left));

    /// <summary>A round even number at or above, so that the middle line has a plain figure.</summary>
    static decimal Ceiling(decimal most)
    {
        var step = 2m;
        while (step * 4 < most)
            step *= step.ToString(CultureInfo.InvariantCulture).StartsWith('2') ? 2.5m : 2m;
        return Math.Max(2, Math.Ceiling(most / step) * step);
    }
}

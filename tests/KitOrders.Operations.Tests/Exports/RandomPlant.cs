using System.Globalization;
using System.Text;

namespace KitOrders.Operations.Tests.Exports;

/// <summary>
/// A plant made at random and written down as its files have to look: every column, in the order in which an export gives rows, with the cells that
/// spreadsheets and packed files find hard. It knows nothing of the export.
/// </summary>
sealed class RandomPlant(int seed, int size)
{
    static readonly string[] hard =
    [
        "plain", "a, \"b\" c", "'=SUM(A1:A9)", "''=x", "'- tighten", "'+49 1 234", "'@home", "-5", "'quoted", "_x0041_ <b> &amp;", "Ø 12 µm 日本 😀", "007", "1e5",
        "2026-03-12", "TRUE", "]]>", "1/4", "50 %", "x=y",
    ];

    readonly Random random = new(seed);

    public List<(string File, string Text)> Files { get; } = [];

    public RandomPlant Make()
    {
        File("plant", "key,value", [["currency", "EUR"], ["name", Text()], ["shift_pattern", Text()]]);
        File("bins", "bin,walk_order", Each("B", n => [n, Whole(0, 1000)]));
        File("parts", "part,description,unit,elastomers,unit_cost,lead_time_days,barcode,thread,handed_out_in,supplier,superseded_by", [.. Each("K", n => Part(n, "set")), .. Each("P", n => Part(n, "each")), .. Each("Q", n => Part(n, "m")), Part("Z-ALT", "each", null), Part("Z-KIT", "set", null)]);
        File("alternates", "part,alternate,preference,both_ways", [["P-1", "Z-ALT", Whole(1, 9), Flag()]]);
        File("fluids", "fluid,hazard,approved,refused,ignition_c,bonding", Each("F", n => [n + " " + Text().TrimStart('\''), Maybe(Lines), Maybe(() => "PTFE+EPDM"), Maybe(() => "AU"), Maybe(() => Amount(-100, 500)), Maybe(Flag)]));
        File("pump-models", "model,description,control,sensing_rod,displacement_ml,ports", Each("M", n => [n, Maybe(Lines), One("pilotAir", "solenoid"), Maybe(Flag), Maybe(() => Amount(1, 900)), Maybe(() => "inlet=NPT 1/4 female; exhaust=NPT 3/8 female")]));
        File("pumps", "tag,serial,model,area,zone,ex_group,temperature_class,supply_kind,supply_volts,cable_m,cable_mm2,fluid,fluid_temp_c,criticality,sensing_rod,strokes_per_pulse,commissioned_on",
            Each("T", n => [n, "S" + n, "M-1", Maybe(Text), Maybe(() => One("none", "0", "1", "2", "20")), Maybe(() => "IIC"), Maybe(() => "T4"), Maybe(() => One("dc", "ac50")), Maybe(() => Amount(1, 400)),
                Maybe(() => Amount(0, 99)), Maybe(() => Amount(1, 4)), null, Maybe(() => Amount(-20, 200)), Whole(1, 10), Maybe(Flag), Maybe(() => Whole(1, 20)), Maybe(Day)]));
        File("kits", "kit,revision,line,part,quantity,source,spare_policy,reject_rate,wraps,wraps_for,buildable", Several("K", n => Kit(n, 1).Concat(Kit(n, 12))));
        File("fits", "kit,revision,model,converts_to,needs_sensing_rod,ports,supply_kind,volts,volts_tolerance_pct,amps,ex_marking,materials,once,requires_kits,excludes_kits",
            Several("K", n => new[] { "1", "12" }.Select(r => (string?[])[n, r, "M-1", size > 1 ? Maybe(() => "M-2") : null, Flag(), Maybe(() => "exhaust=NPT 3/8 male"), Maybe(() => "dc"), Maybe(() => Amount(1, 400)), Maybe(() => Amount(0, 50)),
                Maybe(() => Amount(0, 9)), Maybe(() => "Gb IIC T4"), Maybe(() => "PTFE+EPDM"), Flag(), null, Maybe(() => "Z-KIT")])));
        File("procedures", "procedure,revision,step,part_of,kind,text,model,signal_word,hazard,consequence,avoid,joint,bolts,sequence,target,low,high,unit,tolerance_pct,passes,hold_point,witnessed,part,minutes,tool,document,edition,page",
            Several("W", n => Steps(n, "1").Concat(Steps(n, "2"))));
        File("crews", "crew,people,hours_per_week,hourly_rate", Each("C", n => [n, Maybe(() => Whole(0, 9)), Maybe(() => Amount(0, 400)), Maybe(() => Amount(0, 90))]));
        File("jobs", "job,description,procedure,kits,crew,hours", Each("J", n => [n, Lines(), "W-1", Maybe(() => size > 1 ? "K-1*2+K-2" : "K-1"), Maybe(() => "C-1"), Maybe(() => Amount(0, 40))]));
        File("people", "name,roles,crew", [["Iris Imports", "planner+storeroom+technician+manager+administrator", null], .. Each("Zoë", n => [n, One("planner", "storeroom+manager"), Maybe(() => "C-1")])]);
        File("tools", "tool,description,low,high,unit,calibrated_on,due_on", Each("TQ", n => [n, Maybe(Lines), Maybe(() => Amount(-9, 9)), Maybe(() => Amount(10, 99)), Maybe(() => "Nm"), Maybe(() => "2025-02-28"), Maybe(Day)]));
        File("stock", "part,bin,lot,quantity,received_on,cured_on,unit_cost,quarantine", Several("P", n => Lying(n, "L1").Concat(Lying(n, "L2"))));
        File("incoming", "reference,part,quantity,promised_on,supplier,received", Each("PO", n => [n, "P-1", Whole(5, 9), Maybe(Day), Maybe(Text), Whole(0, 4)]));
        File("fitted", "tag,kit,revision,fitted_on", Each("T", n => [n, "K-1", One("1", "12"), "2025-01-31"]));
        File("orders", "number,pump,job,needed_by,planned_fit_on,work_class,state,kits", Each("O", n => [n, "T-1", "J-1", Day(), Maybe(Day), Whole(1, 10), "draft", Maybe(() => "K-1*7")]));
        return this;
    }

    /// <summary>What supersedes it stands before or behind it.</summary>
    string? Next(string number) => size < 2 || number[2..] == "1" ? null : Maybe(() => number[..2] + One("1", size.ToString(CultureInfo.InvariantCulture))) is { } next && next != number ? next : null;

    string?[] Part(string number, string unit) => Part(number, unit, Next(number));

    string?[] Part(string number, string unit, string? next) =>
        [number, Lines(), unit, null, Maybe(() => Amount(0, 900)), Maybe(() => Whole(0, 90)), Maybe(() => Whole(1_000_000, 9_999_999) + number[2..]), Maybe(() => "NPT 1/4 male"), Maybe(() => Amount(1, 5)), Maybe(Text), next];

    IEnumerable<string?[]> Kit(string number, int revision)
    {
        var text = revision.ToString(CultureInfo.InvariantCulture);
        yield return [number, text, "1", "P-1", Whole(1, 9), One("inTheBox", "boughtSeparately"), null, null, null, null, Flag()];
        yield return [number, text, "9", "P-1", Whole(1, 9), "carriedOver", One("none", "all"), Maybe(() => "0.125"), null, null, null];
        yield return [number, text, "10", "Q-1", Amount(1, 9), "shopSupply", null, null, "2.5", "1+9", null];
    }

    IEnumerable<string?[]> Steps(string procedure, string revision) => new[] { "preliminary", "main", "closeUp" }.Select((part, i) => (string?[])
        [procedure, revision, Whole((i * 100) + 1, (i * 100) + 90), part, One("instruction", "check"), Lines(), Maybe(() => "M-1"), One("warning", "danger", "caution"), Lines(), Lines(), Lines(), Maybe(Text), Maybe(() => Whole(1, 20)),
            Maybe(() => One("star", "round")), Maybe(() => Amount(1, 50)), null, null, Maybe(() => "Nm"), Maybe(() => Amount(0, 20)), Maybe(() => Whole(1, 4)), Flag(), Flag(), Maybe(() => "P-1"), Maybe(() => Amount(0, 60)),
            Maybe(Text), Maybe(Text), Maybe(Text), Maybe(Text)]);

    IEnumerable<string?[]> Lying(string part, string lot)
    {
        string?[] same = ["2025-11-03", Maybe(() => "2024-06-30"), Maybe(() => Amount(0, 50)), Maybe(Text)];
        for (var bin = 1; bin <= Math.Min(size, 2); bin++)
            yield return [part, $"B-{bin}", lot, Whole(1, 99), .. same];
    }

    void File(string name, string header, IEnumerable<string?[]> rows)
    {
        var text = new StringBuilder("\uFEFF").Append(header).Append("\r\n");
        foreach (var row in rows)
            text.AppendJoin(',', row.Select(c => c is null ? "" : c.AsSpan().IndexOfAny(",\"\n") < 0 ? c : $"\"{c.Replace("\"", "\"\"", StringComparison.Ordinal)}\"")).Append("\r\n");
        Files.Add((name, text.ToString()));
    }

    string?[][] Each(string kind, Func<string, string?[]> row) => [.. Enumerable.Range(1, size).Select(i => row($"{kind}-{i}"))];

    string?[][] Several(string kind, Func<string, IEnumerable<string?[]>> rows) => [.. Enumerable.Range(1, size).SelectMany(i => rows($"{kind}-{i}"))];

    T One<T>(params T[] of) => of[random.Next(of.Length)];

    string? Maybe(Func<string> value) => random.Next(3) == 0 ? null : value();

    string Text() => One(hard);

    string Lines() => random.Next(3) == 0 ? $"Line of {One(hard)}\n{One(hard)}" : One(hard);

    string Flag() => One("yes", "no");

    string Whole(int low, int high) => random.Next(low, high + 1).ToString(CultureInfo.InvariantCulture);

    string Amount(int low, int high) => (random.Next(low, high) + (random.Next(10_000) / 10_000m)).ToString("0.####", CultureInfo.InvariantCulture);

    string Day() => new DateOnly(2026, 1, 1).AddDays(random.Next(3_000)).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}

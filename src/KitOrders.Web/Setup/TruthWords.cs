using KitOrders.Operations.Stock;

namespace KitOrders.Web.Setup;

/// <summary>What a check of stock truth means to people.</summary>
/// <param name="Title">What holds, as a sentence.</param>
/// <param name="Meaning">What follows from it, and what it would look like if it did not hold.</param>
/// <param name="One">What was compared, one of it.</param>
/// <param name="Many">What was compared, several of it.</param>
public sealed record TruthWords(string Title, string Meaning, string One, string Many)
{
    static readonly Dictionary<string, TruthWords> words = new()
    {
        ["on-hand-is-the-sum-of-movements"] = new("What is on hand is the sum of its movements",
            "Everything that came into a bin less everything that went out is what the bin is said to hold.", "lot in a bin", "lots in bins"),
        ["running-balance-is-right"] = new("Every movement says the right balance",
            "Followed from the first movement on, the balance written beside each one is right and never below nothing.", "movement", "movements"),
        ["reserved-lies-within-on-hand"] = new("No bin has promised more than it holds",
            "Otherwise two orders would count on the same piece.", "lot in a bin", "lots in bins"),
        ["reserved-is-what-reservations-hold"] = new("What a bin has promised is what orders hold of it",
            "Otherwise stock would be kept from everybody for no order, or an order would count on stock that is free for others.", "lot in a bin", "lots in bins"),
        ["demand-lines-are-what-reservations-say"] = new("Each line of an order has what its reservations say",
            "Otherwise an order would look covered or short and not be it.", "line of an order", "lines of orders"),
        ["required-is-picked-reserved-and-short"] = new("What a line needs is picked, reserved or short",
            "Nothing that is needed is left out, and nothing counts twice.", "line of an order", "lines of orders"),
        ["what-was-picked-is-accounted-for-once"] = new("What was picked is fitted, returned or scrapped, once",
            "In an order that is closed every picked piece has gone one way; before, none has gone two.", "reservation", "reservations"),
        ["ended-orders-hold-nothing"] = new("Orders that are not open hold nothing",
            "A draft, a closed and a cancelled order keep no stock from others.", "reservation", "reservations"),
        ["pooled-spares-are-used-once"] = new("A campaign's spares are used, returned or scrapped, once",
            "What a campaign says its orders have used is what the orders have used.", "reservation", "reservations"),
        ["a-campaign-holds-the-spares-of-its-orders"] = new("A campaign holds the spares of all its orders",
            "No order of a campaign holds a spare of its own beside them.", "line", "lines"),
        ["stock-is-held-for-who-asked"] = new("Stock is held for who asked for it",
            "What is held for a line is held for the order or the campaign that the line belongs to.", "reservation", "reservations"),
        ["ended-campaigns-hold-nothing"] = new("Campaigns without an open order hold nothing",
            "After its last order a campaign keeps no spare from others.", "reservation", "reservations"),
        ["a-lot-is-of-one-part"] = new("A lot is of one part",
            "Stock, reservations and movements of a lot name the part the lot is of.", "entry", "entries"),
        ["every-command-answered-once"] = new("Every command was answered",
            "What was done is kept together with the answer to it, so that it cannot be done twice.", "command", "commands"),
    };

    /// <summary>A check without words of its own is shown by its name.</summary>
    public static TruthWords Of(string check) => words.GetValueOrDefault(check) ?? new(check, "", "row", "rows");

    /// <summary>"0.4 s", "12 s", "3 min 5 s".</summary>
    public static string Took(TimeSpan time) => time.TotalSeconds < 10 ? $"{time.TotalSeconds.ToString("0.0", System.Globalization.CultureInfo.InvariantCulture)} s"
        : time.TotalMinutes < 1 ? $"{(int)time.TotalSeconds} s" : $"{(int)time.TotalMinutes} min {time.Seconds} s";

    /// <summary>The sentence at the end of a run.</summary>
    public static string Sum(IReadOnlyCollection<TruthFinding> found)
    {
        var failed = found.Count(f => !f.Holds);
        return failed == 0 ? $"Every check holds: {Shared.Figures.Of(found.Sum(f => f.Compared), "row")} compared, none breaks anything."
            : $"{Shared.Figures.Of(failed, "check does", "checks do")} not hold: {Shared.Figures.Of(found.Sum(f => f.BrokenRows), "row breaks", "rows break")} what must be true. Stop picking and counting these parts, keep the data as it is, and have the cause looked for; nothing was changed by this check.";
    }
}

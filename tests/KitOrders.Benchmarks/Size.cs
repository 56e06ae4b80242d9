namespace KitOrders.Benchmarks;

/// <summary>How much a database is filled with. Each part has three lots, each order that was opened twenty lines.</summary>
/// <param name="Movements">All of them: receipts, and a pick for every line of every order that is past picking.</param>
sealed record Size(string Name, int Parts, int Orders, int Movements, int Pumps)
{
    public const int LotsPerPart = 3;
    public const int LinesPerOrder = 20;
    public const int HotParts = 50;
    public const int HotLines = 16;

    /// <summary>Kits over all parts, and kits that draw 16 of their 20 lines from the hot parts.</summary>
    public const int SpreadKits = 800;
    public const int HotKits = 400;

    /// <summary>Parts of which there is nothing, for which so many orders wait.</summary>
    public const int WantedParts = 24;
    public const int WaitingOrders = 100;

    public static readonly Size Full = new("full", 20_000, 200_000, 4_000_000, 10_000);

    /// <summary>As little as gives an answer in three minutes.</summary>
    public static readonly Size Quick = new("quick", 2_000, 1_500, 40_000, 1_000);

    /// <summary>The full plant before its history: what growth is held against.</summary>
    public static readonly Size Young = new("young", 13_000, 40, 40_000, 10_000);

    public int Lots => Parts * LotsPerPart;

    /// <summary>A kit is a part, and so are the two assemblies inside it.</summary>
    public int FirstKit => Parts + 1;
    public int FirstWanted => FirstKit + (3 * (SpreadKits + HotKits));
}

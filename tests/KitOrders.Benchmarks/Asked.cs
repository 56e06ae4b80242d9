namespace KitOrders.Benchmarks;

/// <summary>What the command line asks for.</summary>
sealed record Asked
{
    public static readonly IReadOnlyList<string> Parts = ["open", "pick", "receive", "lists", "matrix"];

    public const string Help = """
        Measures the product beside its floor, on a PostgreSQL server of its own.

          --quick          a small database and short stretches: an answer in three minutes
          --only WHAT      open, pick, receive, lists or matrix (may be given more than once)
          --clients N      open orders with so many clients only (may be given more than once; otherwise 1, 4, 16 and 32)
          --keep DIR       keep the filled databases there and take them again
          --out FILE       write the report there as well

        Ends with 0 when every target is reached, 1 when one is missed, 2 when it was asked wrongly,
        3 when it could not be measured.
        """;

    public bool Quick { get; init; }
    public IReadOnlyList<string> Only { get; init; } = Parts;
    public IReadOnlyList<int> Clients { get; init; } = [1, 4, 16, 32];
    public string? Keep { get; init; }
    public string? Out { get; init; }

    /// <summary>Null when the arguments say something that is not known.</summary>
    public static Asked? Read(string[] arguments)
    {
        var (asked, only, clients) = (new Asked(), new List<string>(), new List<int>());
        for (var n = 0; n < arguments.Length; n++)
        {
            var value = n + 1 < arguments.Length ? arguments[n + 1] : null;
            switch (arguments[n])
            {
                case "--quick":
                    asked = asked with { Quick = true };
                    continue;
                case "--only" when value is not null && Parts.Contains(value):
                    only.Add(value);
                    break;
                case "--clients" when int.TryParse(value, out var count) && count is >= 1 and <= 50:
                    clients.Add(count);
                    break;
                case "--keep" when value is not null:
                    asked = asked with { Keep = value };
                    break;
                case "--out" when value is not null:
                    asked = asked with { Out = value };
                    break;
                default:
                    return null;
            }

            n++;
        }

        return asked with { Only = only.Count > 0 ? only : Parts, Clients = clients.Count > 0 ? clients : asked.Clients };
    }
}

namespace KitOrders.Rules.People;

/// <summary>What a person does in the plant; a person may hold several. An administrator alone has no operational rights.</summary>
[Flags]
public enum Roles
{
    None = 0,
    Planner = 1,
    Storeroom = 2,
    Technician = 4,
    Manager = 8,
    Administrator = 16,
    All = Planner | Storeroom | Technician | Manager | Administrator,
}

/// <summary>Roles as text: the words joined with "+", such as "planner+manager".</summary>
public static class RoleText
{
    static readonly Roles[] single = [Roles.Planner, Roles.Storeroom, Roles.Technician, Roles.Manager, Roles.Administrator];

    static readonly char[] separators = ['+', ',', ';', ' ', '|'];

    public static IEnumerable<Roles> Each(Roles roles) => single.Where(role => roles.HasFlag(role));

    public static string Of(Roles roles) => string.Join('+', Each(roles).Select(role => Word.Of(role)));

    /// <summary>Reads roles; throws on a word that is none. For text that people wrote use <see cref="TryRead"/>.</summary>
    public static Roles Read(string text) =>
        TryRead(text, out var roles) ? roles : throw new FormatException($"'{text}' names no roles.");

    public static bool TryRead(string text, out Roles roles)
    {
        roles = Roles.None;
        foreach (var word in text.Split(separators, StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries))
        {
            if (!Word.TryRead<Roles>(word, out var role) || !single.Contains(role))
                return false;
            roles |= role;
        }
        return true;
    }
}

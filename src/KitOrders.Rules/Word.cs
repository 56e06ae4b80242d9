namespace KitOrders.Rules;

/// <summary>
/// The words of plain states as files and the HTTP API write them: camelCase of the enum's member, read without regard
/// to case. A member may carry another word with <see cref="WrittenAsAttribute"/>.
/// </summary>
public static class Word
{
    public static string Of<T>(T value) where T : struct, Enum => Words<T>.ByValue[value];

    public static bool TryRead<T>(string? text, out T value) where T : struct, Enum
    {
        value = default;
        return text is not null && Words<T>.ByWord.TryGetValue(text.Trim(), out value);
    }

    /// <summary>All words of the enum, for a sentence such as "must be one of a, b, c".</summary>
    public static IReadOnlyCollection<string> All<T>() where T : struct, Enum => Words<T>.ByValue.Values;

    static class Words<T> where T : struct, Enum
    {
        public static readonly Dictionary<T, string> ByValue = Enum.GetValues<T>().ToDictionary(v => v, Written);

        public static readonly Dictionary<string, T> ByWord =
            ByValue.ToDictionary(p => p.Value, p => p.Key, StringComparer.OrdinalIgnoreCase);

        static string Written(T value)
        {
            var name = value.ToString();
            var member = typeof(T).GetField(name)!;
            return member.GetCustomAttributes(typeof(WrittenAsAttribute), false) is [WrittenAsAttribute written]
                ? written.Word
                : char.ToLowerInvariant(name[0]) + name[1..];
        }
    }
}

/// <summary>The word that stands for the member where its own name cannot be one, such as a zone's number.</summary>
[AttributeUsage(AttributeTargets.Field)]
public sealed class WrittenAsAttribute(string word) : Attribute
{
    public string Word { get; } = word;
}

namespace KitOrders.Rules.Stock;

/// <summary>Storage groups of ISO 2230:2002.</summary>
public enum ElastomerGroup
{
    A,
    B,
    C,
}

/// <summary>
/// An ISO 1629 code with its storage group. No group: PTFE and thermoplastics, which are no rubbers and carry no expiry.
/// </summary>
/// <param name="FromMemory">The group was not seen in print; the standard has to be opened before it is relied upon.</param>
public sealed record Elastomer(string Code, ElastomerGroup? Group, bool FromMemory)
{
    /// <summary>Kept as data with its edition: a newer one is in preparation.</summary>
    public const string Edition = "ISO 2230:2002";

    static readonly Dictionary<string, Elastomer> ByCode = new Elastomer[]
    {
        // Printed at eapseals.com/more-info/storage, where the list is given as that of BS ISO 2230:2002.
        new("NR", ElastomerGroup.A, false),
        new("IR", ElastomerGroup.A, false),
        new("AU", ElastomerGroup.A, false),
        new("NBR", ElastomerGroup.B, false),
        new("HNBR", ElastomerGroup.B, false),
        new("CR", ElastomerGroup.B, false),
        new("EPDM", ElastomerGroup.C, false),
        new("FKM", ElastomerGroup.C, false),
        new("VMQ", ElastomerGroup.C, false),
        new("FVMQ", ElastomerGroup.C, false),
        new("TFE", ElastomerGroup.C, false),
        new("FFKM", ElastomerGroup.C, false),

        new("BR", ElastomerGroup.A, true),
        new("SBR", ElastomerGroup.A, true),
        new("EU", ElastomerGroup.A, true),
        new("XNBR", ElastomerGroup.B, true),
        new("ECO", ElastomerGroup.B, true),
        new("CO", ElastomerGroup.B, true),
        new("ACM", ElastomerGroup.B, true),
        new("IIR", ElastomerGroup.B, true),
        new("BIIR", ElastomerGroup.B, true),
        new("CIIR", ElastomerGroup.B, true),
        new("EPM", ElastomerGroup.C, true),
        new("CM", ElastomerGroup.C, true),
        new("CSM", ElastomerGroup.C, true),
        new("PVMQ", ElastomerGroup.C, true),
        new("AEM", ElastomerGroup.C, true),
        new("FEPM", ElastomerGroup.C, true),

        new("PTFE", null, false),
        new("PFA", null, true),
        new("FEP", null, true),
        new("PVDF", null, true),
        new("PP", null, true),
        new("PE", null, true),
        new("PA", null, true),
        new("POM", null, true),
        new("PEEK", null, true),
        new("TPA", null, true),
        new("TPC", null, true),
        new("TPO", null, true),
        new("TPS", null, true),
        new("TPU", null, true),
        new("TPV", null, true),
    }.ToDictionary(e => e.Code, StringComparer.OrdinalIgnoreCase);

    public bool Ages => Group is not null;

    public static IReadOnlyCollection<Elastomer> All => ByCode.Values;

    /// <summary>
    /// Reads "NBR+FKM"; empty is no elastomer recorded. Codes are read without regard to case, repeated ones once.
    /// Refusal: <c>elastomer-unknown</c>.
    /// </summary>
    public static Outcome<IReadOnlyList<Elastomer>> Read(string? text)
    {
        var found = new List<Elastomer>();
        foreach (var code in (text ?? "").Split('+', StringSplitOptions.TrimEntries))
        {
            if (code.Length == 0 && string.IsNullOrWhiteSpace(text))
            {
                break;
            }

            if (!ByCode.TryGetValue(code, out var elastomer))
            {
                return Refusal.Field(
                    "elastomers",
                    "elastomer-unknown",
                    $"\"{code}\" is no elastomer code known here. Use ISO 1629 codes such as NBR, EPDM or FKM, joined by +.");
            }

            if (!found.Contains(elastomer))
            {
                found.Add(elastomer);
            }
        }

        return found;
    }

    /// <summary>The codes as an import file writes them.</summary>
    public static string Write(IEnumerable<Elastomer> elastomers) => string.Join('+', elastomers.Select(e => e.Code));
}

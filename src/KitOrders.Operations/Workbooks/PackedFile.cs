using System.IO.Compression;
using System.Xml;

namespace KitOrders.Operations.Workbooks;

/// <summary>
/// The parts of a packed workbook, opened only after every one has been unpacked once to be measured: what a part says of its own size is not
/// believed. Whatever a workbook of plain rows has no need of is refused here.
/// </summary>
internal sealed class PackedFile : IDisposable
{
    /// <summary>All parts together, unpacked and packed, in bytes.</summary>
    public const long MostBytes = 50_000_000;

    const int MostParts = 2_000;

    /// <summary>Rows and texts pack to a tenth or a fiftieth; from here on it is no table.</summary>
    const long MostTimesPacked = 200;

    const long SmallPart = 1_000_000;

    const string TooLarge = "The workbook is larger than 50 MB when it is unpacked. Save the sheet as CSV, or split it.";

    static readonly XmlReaderSettings plain = new()
    {
        DtdProcessing = DtdProcessing.Prohibit,
        XmlResolver = null,
        MaxCharactersInDocument = MostBytes,
        IgnoreComments = true,
        IgnoreProcessingInstructions = true,
        CloseInput = true,
    };

    readonly ZipArchive archive;
    readonly Dictionary<string, ZipArchiveEntry> parts;

    PackedFile(ZipArchive archive, Dictionary<string, ZipArchiveEntry> parts) => (this.archive, this.parts) = (archive, parts);

    static ReadOnlySpan<byte> Packed => "PK\u0003\u0004"u8;

    static ReadOnlySpan<byte> PartListed => "PK\u0001\u0002"u8;

    /// <summary>How an .xls and a workbook under a password begin.</summary>
    static ReadOnlySpan<byte> Compound => [0xD0, 0xCF, 0x11, 0xE0];

    /// <summary>Whether the bytes are a workbook of some kind, rightly or wrongly made, and no text.</summary>
    public static bool Is(ReadOnlySpan<byte> bytes) => bytes.StartsWith(Packed) || bytes.StartsWith(Compound);

    /// <summary>The parts, or null with an error that says what the file is instead.</summary>
    public static PackedFile? Open(byte[] bytes, ImportErrors errors, CancellationToken ct)
    {
        if (Unfit(bytes) is { } why)
        {
            errors.Add(0, "", why);
            return null;
        }
        ZipArchive? archive = null;
        try
        {
            archive = new ZipArchive(new MemoryStream(bytes, writable: false), ZipArchiveMode.Read);
            var parts = new Dictionary<string, ZipArchiveEntry>(StringComparer.OrdinalIgnoreCase);
            why = archive.Entries.Select(e => parts.TryAdd(e.FullName, e) ? Unfit(e) : $"The workbook holds {e.FullName} twice. Save it again in the spreadsheet.").FirstOrDefault(w => w is not null)
                ?? (archive.Entries.Sum(e => (decimal)e.CompressedLength) > bytes.Length ? "Parts of the packed file lie over one another. Save the workbook again in the spreadsheet." : null)
                ?? Measure(archive.Entries, ct);
            if (why is null)
                return new PackedFile(archive, parts);
        }
        catch (InvalidDataException)
        {
            why = "The file is packed wrongly or cut off. Save the workbook again in the spreadsheet.";
        }
        archive?.Dispose();
        errors.Add(0, "", why);
        return null;
    }

    static string? Unfit(byte[] bytes)
    {
        if (bytes.AsSpan().StartsWith(Compound))
            return "The file is an .xls of old or stands under a password. Save it as .xlsx without a password.";
        if (!bytes.AsSpan().StartsWith(Packed))
            return "The file is not an .xlsx workbook. Save it as .xlsx in the spreadsheet, or as CSV UTF-8.";
        if (bytes.Length > MostBytes)
            return TooLarge;
        // Counted before the list is read: each part listed takes memory.
        return bytes.AsSpan().Count(PartListed) > MostParts ? $"The workbook is made of more than {MostParts:N0} parts. Save the one sheet as CSV." : null;
    }

    static string? Unfit(ZipArchiveEntry part)
    {
        var name = part.FullName.ToLowerInvariant();
        if (part.IsEncrypted)
            return "The workbook is encrypted. Save it without a password.";
        if (name.EndsWith("vbaproject.bin", StringComparison.Ordinal) || name.StartsWith("xl/macrosheets/", StringComparison.Ordinal))
            return "The workbook holds macros. Save it as .xlsx without them.";
        if (name.StartsWith("xl/externallinks/", StringComparison.Ordinal) || name.StartsWith("xl/connections", StringComparison.Ordinal))
            return "The workbook is linked to other files or data outside it. Break the links and save it with values alone.";
        return null;
    }

    static string? Measure(IEnumerable<ZipArchiveEntry> entries, CancellationToken ct)
    {
        var buffer = new byte[64 * 1024];
        long all = 0;
        foreach (var entry in entries)
        {
            using var part = entry.Open();
            long one = 0;
            int read;
            while ((read = part.Read(buffer)) > 0)
            {
                ct.ThrowIfCancellationRequested();
                if (one == 0 && buffer.AsSpan(0, read).StartsWith(Packed))
                    return $"The workbook holds another packed file, {entry.FullName}. Take out what is embedded in it.";
                one += read;
                all += read;
                if (all > MostBytes)
                    return TooLarge;
                if (one > SmallPart && one / Math.Max(1, entry.CompressedLength) > MostTimesPacked)
                    return $"{entry.FullName} in the workbook unpacks to more than {MostTimesPacked} times its size, as no table does. Save the workbook again in the spreadsheet.";
            }
        }
        return null;
    }

    public bool Has(string part) => parts.ContainsKey(part);

    /// <summary>Reads a part as XML without document types, entities and anything outside the file.</summary>
    public XmlReader Read(string part) => XmlReader.Create(parts[part].Open(), plain);

    public void Dispose() => archive.Dispose();
}

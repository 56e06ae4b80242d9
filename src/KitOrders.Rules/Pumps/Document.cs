using KitOrders.Rules.People;

namespace KitOrders.Rules.Pumps;

public readonly record struct DocumentId(int Value);

public enum DocumentKind
{
    Manual,
    Certificate,
    Drawing,
    Other,
}

/// <summary>
/// A file attached to a pump model, such as its maker's manual, or to one pump, such as its certificate. Never changed and
/// never deleted: a step that cites it goes on showing what it cited.
/// </summary>
public sealed class Document
{
    public const int TitleMaxLength = 200;
    public const int EditionMaxLength = 60;
    public const int FileNameMaxLength = 200;

    public DocumentId Id { get; private set; }

    /// <summary>The model it belongs to; null where it belongs to a pump.</summary>
    public PumpModelId? ModelId { get; init; }

    public PumpId? PumpId { get; init; }

    public required DocumentKind Kind { get; init; }

    public required string Title { get; init; }

    public string? Edition { get; init; }

    /// <summary>What the file was called by whoever attached it.</summary>
    public required string FileName { get; init; }

    /// <summary>application/pdf, image/jpeg or image/png, told by its content.</summary>
    public required string ContentType { get; init; }

    /// <summary>SHA-256 of the content, lower-case hexadecimal.</summary>
    public required string Sha256 { get; init; }

#pragma warning disable CA1819 // The content is a row's bytes, handed through as it is.
    public required byte[] Content { get; init; }
#pragma warning restore CA1819

    public required PersonId AddedById { get; init; }

    public required DateTimeOffset AddedAt { get; init; }
}

/// <summary>A document was taken off the lists. Its file stays for the steps and orders that cite it.</summary>
public sealed class DocumentRemoval
{
    public int Id { get; private set; }

    public required DocumentId DocumentId { get; init; }

    public required PersonId PersonId { get; init; }

    public required DateTimeOffset At { get; init; }
}

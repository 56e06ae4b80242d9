using KitOrders.Rules.People;

namespace KitOrders.Rules.Procedures;

/// <summary>A picture that a step shows: which file, and what it says under it, which is also what is read where it cannot be seen.</summary>
public sealed record StepPicture(string Sha256, string Caption)
{
    public const int MostOfAStep = 6;
    public const int CaptionMaxLength = 200;

    const int ShaLength = 64;

    /// <summary>As a step keeps it: the digest, a space, the caption.</summary>
    public override string ToString() => $"{Sha256} {Caption}";

    public static StepPicture Read(string kept) => new(kept[..ShaLength], kept[(ShaLength + 1)..]);

    public static IReadOnlyList<StepPicture> Of(Step step) => [.. step.Pictures.Select(Read)];

    /// <summary>SHA-256 as it is written here: 64 lower-case hexadecimal digits.</summary>
    public static bool IsDigest(string text) => text.Length == ShaLength && text.All(c => char.IsAsciiDigit(c) || c is >= 'a' and <= 'f');
}

/// <summary>The file of a picture, kept once however many steps of however many revisions show it. Never changed, never deleted.</summary>
public sealed class PictureFile
{
    public int Id { get; private set; }

    public required string Sha256 { get; init; }

    /// <summary>image/jpeg, image/png or image/webp, told by its content.</summary>
    public required string ContentType { get; init; }

#pragma warning disable CA1819 // The content is a row's bytes, handed through as it is.
    public required byte[] Content { get; init; }
#pragma warning restore CA1819

    public required PersonId AddedById { get; init; }

    public required DateTimeOffset AddedAt { get; init; }
}

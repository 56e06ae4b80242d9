using KitOrders.Rules.People;

namespace KitOrders.Rules.Orders;

/// <summary>A photograph of a step, kept as it came. Appended, never overwritten; the same picture of a step is kept once.</summary>
public sealed class StepPhotograph
{
    public const int Sha256Length = 64;

    public long Id { get; private set; }

    public required OrderId OrderId { get; init; }

    public required int OrderStepId { get; init; }

    public required PersonId PersonId { get; init; }

    public required DateTimeOffset ReceivedAt { get; init; }

    /// <summary>image/jpeg, image/png or image/webp, told by its content.</summary>
    public required string ContentType { get; init; }

    /// <summary>SHA-256 of the content, lower-case hexadecimal.</summary>
    public required string Sha256 { get; init; }

#pragma warning disable CA1819 // The content is a row's bytes, handed through as it is.
    public required byte[] Content { get; init; }
#pragma warning restore CA1819
}

namespace KitOrders.Rules.People;

public readonly record struct PersonId(int Value);

/// <summary>Somebody who does something here. Sign-in, tokens and pins hang on the person; what was done keeps the name.</summary>
public sealed class Person
{
    public const int NameMaxLength = 100;

    /// <summary>Wrong pins in a row that are borne.</summary>
    public const int PinTries = 5;

    public static readonly TimeSpan PinBlock = TimeSpan.FromMinutes(15);

    public PersonId Id { get; private set; }

    public required string Name { get; init; }

    public required Roles Roles { get; set; }

    /// <summary>The crew by name.</summary>
    public string? Crew { get; set; }

    /// <summary>A person who has left signs in no more; the history keeps the name.</summary>
    public bool Active { get; set; } = true;

    /// <summary>Hash of the pin with which a person witnesses a step or releases a hold point on another's tablet.</summary>
    public string? PinHash { get; private set; }

    /// <summary>Wrong pins in a row.</summary>
    public int PinFailures { get; private set; }

    /// <summary>No pin of this person is taken before this instant, not even the right one.</summary>
    public DateTimeOffset? PinBlockedUntil { get; private set; }

    /// <summary>One of the invented people of the demo plant, whom anybody may continue as while its data is loaded.</summary>
    public bool Demo { get; set; }

    /// <summary>Takes a new pin, or none; what was counted against the old one is forgotten.</summary>
    public void SetPin(string? hash)
    {
        PinHash = hash;
        PinFailures = 0;
        PinBlockedUntil = null;
    }

    public bool IsPinBlocked(DateTimeOffset now) => now < PinBlockedUntil;

    /// <summary>Keeps what came of one try, so that four digits cannot be guessed: five wrong ones in a row block the pin for a quarter of an hour.</summary>
    public void Tried(bool right, DateTimeOffset now)
    {
        PinFailures = right ? 0 : PinFailures + 1;
        if (PinFailures < PinTries)
            return;
        PinFailures = 0;
        PinBlockedUntil = now + PinBlock;
    }
}

public sealed class Crew
{
    public int Id { get; private set; }

    public required string Name { get; init; }

    public int? People { get; set; }

    public decimal? HoursPerWeek { get; set; }

    public decimal? HourlyRate { get; set; }
}

/// <summary>A measuring tool with a usable range and a calibration that runs out.</summary>
public sealed class Tool
{
    public int Id { get; private set; }

    public required string Code { get; init; }

    public string? Description { get; set; }

    public decimal? Low { get; set; }

    public decimal? High { get; set; }

    public string? Unit { get; set; }

    public DateOnly? CalibratedOn { get; set; }

    /// <summary>Last day on which the calibration counts.</summary>
    public DateOnly? DueOn { get; set; }
}

/// <summary>A token with which a script acts as a person. Only its hash is kept.</summary>
public sealed class ApiToken
{
    public int Id { get; private set; }

    public required PersonId PersonId { get; init; }

    public required string Label { get; init; }

    public required string Hash { get; init; }

    public required DateTimeOffset MadeAt { get; init; }

    public DateTimeOffset? RevokedAt { get; private set; }

    public void Revoke(DateTimeOffset at) => RevokedAt ??= at;
}

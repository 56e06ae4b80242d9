namespace KitOrders.Rules.People;

public readonly record struct PersonId(int Value);

/// <summary>Somebody who does something here. Sign-in, tokens and pins hang on the person; what was done keeps the name.</summary>
public sealed class Person
{
    public const int NameMaxLength = 100;

    public PersonId Id { get; private set; }

    public required string Name { get; init; }

    public required Roles Roles { get; set; }

    /// <summary>The crew by name.</summary>
    public string? Crew { get; set; }

    /// <summary>A person who has left signs in no more; the history keeps the name.</summary>
    public bool Active { get; set; } = true;

    /// <summary>Hash of the pin with which a person witnesses a step or releases a hold point on another's tablet.</summary>
    public string? PinHash { get; set; }

    /// <summary>One of the invented people of the demo plant, whom anybody may continue as while its data is loaded.</summary>
    public bool Demo { get; set; }
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

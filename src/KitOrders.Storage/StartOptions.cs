namespace KitOrders.Storage;

/// <summary>Which database the app works on, and how it begins.</summary>
/// <param name="DataFolder">Where the private cluster stands; used when no connection string is given.</param>
public sealed record StartOptions(string DataFolder)
{
    /// <summary>A database of the operator's own. With it no private cluster is started.</summary>
    public string? ConnectionString { get; init; }

    /// <summary>The role that owns the tables of that database, for migrating; the same as the app's where left out.</summary>
    public string? OwnerConnectionString { get; init; }

    /// <summary>The folder of PostgreSQL's server programs; found by itself where left out.</summary>
    public string? ProgramsFolder { get; init; }

    /// <summary>Sets the private cluster's data aside and begins with an empty one.</summary>
    public bool Fresh { get; init; }

    /// <summary>Migrates the operator's own database; the private one is always migrated.</summary>
    public bool Migrate { get; init; }
}

/// <summary>What the schema needs from the start: how to bring it up to date, how to see that it is not, who may do what.</summary>
/// <param name="Migrate">Applies the missing migrations through the owner's connection string.</param>
/// <param name="IsBehind">Whether migrations are missing, asked through the app's connection string.</param>
/// <param name="Grants">The tables that the app's role may not change freely.</param>
public sealed record Schema(
    Func<string, CancellationToken, Task> Migrate,
    Func<string, CancellationToken, Task<bool>> IsBehind,
    TableGrants Grants);

namespace KitOrders.Storage.Private;

/// <summary>How a private cluster is made and kept.</summary>
sealed record ClusterSettings(string DataFolder)
{
    /// <summary>The folder of PostgreSQL's server programs; found by itself when not given.</summary>
    public string? ProgramsFolder { get; init; }

    public IReadOnlyList<string> Accounts { get; init; } = Account.Usual;

    /// <summary>False only where losing the data does not matter: a test's throw-away cluster.</summary>
    public bool Durable { get; init; } = true;

    public int MaxConnections { get; init; } = 60;

    public TimeProvider Clock { get; init; } = TimeProvider.System;

    /// <summary>What is appended to a new cluster's postgresql.conf.</summary>
    public string ServerConfiguration => $"""

        # KitOrders: reached through a socket in a closed folder only, no port to clash with.
        listen_addresses = ''
        unix_socket_permissions = 0700
        max_connections = {MaxConnections}
        shared_buffers = 64MB
        jit = off
        timezone = 'UTC'
        log_timezone = 'UTC'
        fsync = {OnOff}
        synchronous_commit = {OnOff}
        full_page_writes = {OnOff}

        """;

    string OnOff => Durable ? "on" : "off";
}

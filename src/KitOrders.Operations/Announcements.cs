using System.Data.Common;
using KitOrders.Storage;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations;

/// <summary>
/// Says to every instance what was committed, a moment later and together with what others committed in that moment, so that
/// no commit waits for the telling: PostgreSQL lets transactions that tell something commit one after the other. Who listens
/// looks again (<see cref="Changes"/>); if this program ends in that moment, others see the change when they next look.
/// </summary>
internal sealed class Announcements(IDbContextFactory<KitOrdersDb> factory)
{
    // Shorter than anybody notices.
    static readonly TimeSpan moment = TimeSpan.FromMilliseconds(25);
    static readonly TimeSpan pause = TimeSpan.FromSeconds(2);

    const int Tries = 3;

    /// <summary>PostgreSQL takes eight thousand bytes at a time.</summary>
    const int Longest = 2_000;

    readonly Lock gate = new();
    HashSet<string> waiting = [];

    public void Say(IReadOnlyCollection<string> changed)
    {
        if (changed.Count == 0)
            return;
        lock (gate)
        {
            if (waiting.Count == 0)
                _ = Task.Run(SaySoon);
            waiting.UnionWith(changed);
        }
    }

    async Task SaySoon()
    {
        await Task.Delay(moment);
        IReadOnlyCollection<string> now;
        lock (gate)
            (now, waiting) = (waiting, []);
        var words = string.Join('\n', now.Order(StringComparer.Ordinal));
        for (var attempt = 1; attempt <= Tries; attempt++)
        {
            try
            {
                await Send(words.Length > Longest ? Changes.Everything : words);
                return;
            }
            catch (Exception e) when (e is DbException or InvalidOperationException or System.Net.Sockets.SocketException or System.IO.IOException)
            {
                // The line is broken, and with it the one on which changes are heard: once that is up again everybody looks anew.
                await Task.Delay(pause);
            }
        }
    }

    /// <summary>On a plain connection: it is no command of any operation.</summary>
    async Task Send(string words)
    {
        await using var db = await factory.CreateDbContextAsync();
        var connection = db.Database.GetDbConnection();
        await connection.OpenAsync();
        await using var command = connection.CreateCommand();
        command.CommandText = "select pg_notify('kitorders', @words)";
        var parameter = command.CreateParameter();
        (parameter.ParameterName, parameter.Value) = ("words", words);
        command.Parameters.Add(parameter);
        await command.ExecuteNonQueryAsync();
    }
}

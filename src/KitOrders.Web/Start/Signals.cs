using System.Runtime.InteropServices;

namespace KitOrders.Web.Start;

/// <summary>
/// A stop asked for while the database is still being made ready: without this the process would end at once and leave the
/// private server running. A closed terminal counts as a stop all the time.
/// </summary>
sealed class Signals : IDisposable
{
    readonly CancellationTokenSource stop = new();
    readonly List<PosixSignalRegistration> registrations = [];

    public Signals()
    {
        foreach (var signal in new[] { PosixSignal.SIGINT, PosixSignal.SIGTERM, PosixSignal.SIGHUP })
        {
            registrations.Add(PosixSignalRegistration.Create(signal, context =>
            {
                context.Cancel = true;
                stop.Cancel();
            }));
        }
    }

    public CancellationToken Stop => stop.Token;

    public void Dispose()
    {
        registrations.ForEach(r => r.Dispose());
        stop.Dispose();
    }
}

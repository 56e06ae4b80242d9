using KitOrders.Operations;
using KitOrders.Operations.Kits;
using KitOrders.Rules;

namespace KitOrders.Web.Planner;

/// <summary>
/// A page that is opened by its address is drawn twice, once as it is sent and once more when its line to the server stands.
/// What was judged for the first is kept for the second, as long as nothing at all has changed meanwhile.
/// </summary>
public sealed class MatrixKept : IDisposable
{
    const int Most = 4;

    static readonly TimeSpan longest = TimeSpan.FromSeconds(15);

    readonly SuitabilityMatrix matrix;
    readonly TimeProvider clock;
    readonly IDisposable heard;
    readonly Lock gate = new();
    readonly List<(string Asked, DateTimeOffset At, MatrixView View)> kept = [];
    int changes;

    public MatrixKept(SuitabilityMatrix matrix, Changes changes, TimeProvider clock)
    {
        (this.matrix, this.clock) = (matrix, clock);
        heard = changes.Hear(_ => Forget());
    }

    /// <summary>As <see cref="SuitabilityMatrix.Find"/>.</summary>
    public async Task<Outcome<MatrixView>> Find(MatrixQuery query, CancellationToken ct)
    {
        var asked = (query with { Result = null, Check = null }).Text();
        int before;
        lock (gate)
        {
            kept.RemoveAll(k => clock.GetUtcNow() - k.At > longest);
            if (kept.Find(k => k.Asked == asked) is { View: { } view })
                return view;
            before = changes;
        }
        var found = await matrix.Find(query.Filter, ct);
        lock (gate)
        {
            if (found.IsDone && before == changes)
                kept.Add((asked, clock.GetUtcNow(), found.Value));
            if (kept.Count > Most)
                kept.RemoveAt(0);
        }
        return found;
    }

    void Forget()
    {
        lock (gate)
        {
            changes++;
            kept.Clear();
        }
    }

    public void Dispose() => heard.Dispose();
}

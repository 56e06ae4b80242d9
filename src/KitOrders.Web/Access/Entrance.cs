using KitOrders.Operations.People;
using KitOrders.Web.Layout;

namespace KitOrders.Web.Access;

/// <summary>How one comes in after the start: as an invented person, with one's own name, or by the set-up link.</summary>
public sealed class Entrance(FrontDoor door, FirstAdministrator first, EnsureBootstrap ensure, BootstrapToken bootstrap)
{
    static readonly Banner none = new("");

    static readonly Banner demo = new(
        "Demo plant: its people, pumps and orders are invented, and anybody who reaches this page may go on as any of them. Start with --fresh --no-demo for your own.");

    bool isDemo;

    /// <summary>Says on every page that the plant is invented.</summary>
    public Banner Banner => isDemo ? demo : none;

    /// <summary>
    /// Call when the database holds what it is to begin with. Answers the sentence for the terminal; {address} in it stands
    /// for the address people reach the app at.
    /// </summary>
    public async Task<string> Open(CancellationToken ct)
    {
        if (bootstrap.IsSet)
        {
            var ensured = await ensure.Run(ct);
            if (!ensured.IsDone)
            {
                throw new InvalidOperationException(ensured.Refusal!.Sentence);
            }
        }

        var view = await door.Read(ct);
        isDemo = view.Demo.Count > 0;
        if (!view.NobodyYet)
        {
            return isDemo ? "The demo plant is loaded: choose one of its people on the sign-in page, no password is asked." : "Sign in with your name and password.";
        }

        var link = await first.MakeLink(ct);
        return link.IsDone
            ? $"Nobody can sign in yet. Whoever opens this link first becomes the administrator; it works once:\n{{address}}/set-up/{link.Value}"
            : link.Refusal!.Sentence;
    }
}

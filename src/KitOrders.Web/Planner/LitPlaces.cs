using KitOrders.Operations.Orders;
using KitOrders.Rules.Pumps;

namespace KitOrders.Web.Planner;

/// <summary>
/// Which places of the drawing an order works on. Parts carry no place on record; the words of their descriptions name it.
/// A part whose words name none lights none.
/// </summary>
public static class LitPlaces
{
    static readonly (string Word, string Place)[] words =
    [
        ("coil", "coil"), ("valve assembly", "air-valve"), ("valve body", "air-valve"), ("spool", "air-valve"), ("air valve", "air-valve"),
        ("muffler", "muffler"), ("quick-exhaust", "muffler"), ("diaphragm rod", "rod"), ("rod seal", "rod"), ("bushing", "rod"),
        ("diaphragm", "diaphragm"), ("ball", "balls"), ("seat", "seats"), ("manifold", "manifold-top"), ("fluid chamber", "fluid-chamber"),
        ("leak", "leak-port"), ("stroke sensor", "stroke-sensor-port"), ("proximity sensor", "stroke-sensor-port"), ("stroke counter", "stroke-sensor-port"),
        ("pilot pin", "centre-section"), ("elbow", "air-inlet"),
    ];

    /// <summary>The place a description names; null when it names none.</summary>
    public static string? Of(string description) =>
        words.FirstOrDefault(w => description.Contains(w.Word, StringComparison.OrdinalIgnoreCase)).Place;

    public static IReadOnlyCollection<string> Lit(OrderView order, bool converts)
    {
        var lit = order.Demand.Select(d => Of(d.Description)).OfType<string>().ToHashSet();
        if (converts)
            lit.UnionWith(["air-valve", "coil"]);
        return lit;
    }

    static readonly (string Word, string[] Places)[] works =
    [
        ("convert control", ["air-valve", "coil"]), ("leak detection", ["leak-port"]), ("fluid section", ["diaphragm", "balls", "seats"]),
        ("air section", ["air-valve", "centre-section", "muffler"]), ("air valve", ["air-valve"]), ("stroke", ["stroke-sensor-port"]),
    ];

    /// <summary>The places that the words of a job name.</summary>
    public static IReadOnlyCollection<string> OfWork(string job, bool converts) =>
        [.. works.Where(w => job.Contains(w.Word, StringComparison.OrdinalIgnoreCase)).SelectMany(w => w.Places).Concat(converts ? ["air-valve", "coil"] : []).Distinct()];

    /// <summary>The first line number of each place.</summary>
    public static IReadOnlyDictionary<string, string> Numbers(IReadOnlyList<DemandGroup> groups)
    {
        var numbers = new Dictionary<string, string>();
        foreach (var line in groups.SelectMany(g => g.Lines))
        {
            if (Of(line.Line.Description) is { } place && Shared.PumpPlaces.Named(place) is [var first, ..])
                numbers.TryAdd(first, $"{line.Number}");
        }

        return numbers;
    }

    /// <summary>What this pump does not have: no coil on pilot air; no sensor or leak port where none is fitted.</summary>
    public static IReadOnlyCollection<string> Without(Control control) => control == Control.PilotAir ? ["coil"] : [];
}

using System.Collections.ObjectModel;

namespace KitOrders.Rules.Pumps;

/// <summary>
/// Named ports as files write them: <c>pilot=NPT 1/4 female; exhaust=NPT 1/2 female</c>. For a model the port's own thread,
/// for a kit the thread of the fitting that goes in. Names are compared without regard to case.
/// </summary>
public static class PortList
{
    /// <summary>The ports in the order written; empty text is no port. Refused as <c>port-list-unreadable</c> or as its thread is.</summary>
    public static Outcome<ReadOnlyCollection<Port>> Parse(string? text)
    {
        var ports = new List<Port>();
        foreach (var entry in (text ?? "").Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            var parts = entry.Split('=', 2, StringSplitOptions.TrimEntries);
            if (parts is not [{ Length: > 0 } name, { Length: > 0 } written])
            {
                return Refusal.Invalid("port-list-unreadable", $"\"{entry}\" is not a port. Write name=thread, with \";\" between ports: pilot=NPT 1/4 female; exhaust=NPT 1/2 female.");
            }

            if (Find(ports, name) is not null)
            {
                return Refusal.Invalid("port-list-unreadable", $"The port \"{name}\" is named twice. Name each port once.");
            }

            var thread = PipeThread.Parse(written);
            if (thread.Refusal is { } refusal)
            {
                return refusal with { Sentence = $"Port {name}: {refusal.Sentence}" };
            }

            ports.Add(new Port(name, thread.Value));
        }

        return ports.AsReadOnly();
    }

    public static string Print(IEnumerable<Port> ports) => string.Join("; ", ports);

    public static Port? Find(IEnumerable<Port> ports, string name) =>
        ports.FirstOrDefault(p => string.Equals(p.Name, name, StringComparison.OrdinalIgnoreCase));
}

public sealed record Port(string Name, PipeThread Thread)
{
    public override string ToString() => $"{Name}={Thread}";
}

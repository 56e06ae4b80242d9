using System.Globalization;
using KitOrders.Rules.Pumps;

namespace KitOrders.Rules.Kits;

/// <summary>
/// Does every fitting that the kit brings meet something? A thread of its own lines meets a port that the fits name it for, a
/// port of a model that it fits, or another part of the kit.
/// </summary>
static class KitThreads
{
    public static ReleaseCheck Judge(ReleaseFacts facts)
    {
        var named = facts.Revision.Fits.SelectMany(f => (PortList.Parse(f.Ports) is { IsDone: true, Value: var ports } ? ports : []).Select(p => (Fit: f, Port: p))).ToList();
        var against = named.Select(n => AtPort(facts.Models[n.Fit.ModelId], n.Port)).OfType<ReleaseFinding>().ToList();
        var advice = new List<ReleaseFinding>();
        var fittings = facts.Revision.Fits.Count == 0 ? [] : Threaded(facts).ToList();
        foreach (var (line, thread) in fittings)
        {
            var number = facts.Parts[line.PartId].Fact.Number;
            var where = line.Number.ToString(CultureInfo.InvariantCulture);
            var met = Meets(facts, line, thread, named.Select(n => n.Port.Thread));
            if (met is null)
            {
                advice.Add(new ReleaseFinding("ports-not-recorded", where, $"Line {line.Number}, {number} has the thread {thread}, and no port of the models is recorded: whether it meets one cannot be said."));
            }
            else if (met == Mating.DoesNot)
            {
                against.Add(new ReleaseFinding("thread-meets-no-port", where, $"Line {line.Number}, {number} has the thread {thread}, which meets no port of {Listed(facts)} and no other part of the kit. Correct the thread of the part, or take another part."));
            }
            else if (met == Mating.Unproven)
            {
                advice.Add(new ReleaseFinding("thread-unproven", where, $"Line {line.Number}, {number} has the thread {thread}; whether it mates cannot be proved from what is recorded. Record male or female, or ask the maker."));
            }
        }

        return KitRelease.Check(ReleaseTopic.Threads, against, advice, facts.Revision.Fits.Count == 0 ? "does not apply: it names no model"
            : $"{KitRelease.Counted(named.Count, "port")} named, {KitRelease.Counted(fittings.Count, "threaded part")}: each meets something");
    }

    static ReleaseFinding? AtPort(ModelAtRelease model, Port wanted)
    {
        if (model.Ports is not { Count: > 0 } ports)
        {
            return null;
        }

        if (PortList.Find(ports, wanted.Name) is not { } port)
        {
            return new ReleaseFinding("port-unknown", null, $"{model.Code} has no port {wanted.Name}. It has {string.Join(", ", ports.Select(p => p.Name))}.");
        }

        var mated = PipeThread.Mate(port.Thread, wanted.Thread);
        return mated.Result == Mating.DoesNot ? new ReleaseFinding("fit-thread", null, $"{model.Code}, port {port.Name}: {mated.Why}. Name a fitting that goes in.") : null;
    }

    static IEnumerable<(KitLine Line, PipeThread Thread)> Threaded(ReleaseFacts facts) =>
        from line in facts.Revision.Lines
        where line.Source is LineSource.InTheBox or LineSource.BoughtSeparately
        let thread = facts.Parts[line.PartId].Thread
        where thread is not null
        select (line, thread);

    /// <summary>The best that it meets; null when there is nothing on record to compare it with.</summary>
    static Mating? Meets(ReleaseFacts facts, KitLine line, PipeThread thread, IEnumerable<PipeThread> named)
    {
        var ports = facts.Models.Values.SelectMany(m => m.Ports ?? []).Select(p => p.Thread);
        var others = facts.Parts.Values.Where(p => p.Fact.Part != line.PartId && p.Thread is not null).Select(p => p.Thread!);
        var found = named.Select(n => AsNamed(n, thread)).Concat(ports.Concat(others).Select(o => PipeThread.Mate(o, thread).Result)).ToList();
        return found.Count == 0 ? null : found.Contains(Mating.Mates) ? Mating.Mates : found.Contains(Mating.Unproven) ? Mating.Unproven : Mating.DoesNot;
    }

    static Mating AsNamed(PipeThread named, PipeThread thread) => named.Standard != thread.Standard || named.Size != thread.Size ? Mating.DoesNot
        : named.Gender == thread.Gender && thread.Gender is not null ? Mating.Mates
        : named.Gender is null || thread.Gender is null ? Mating.Unproven : Mating.DoesNot;

    static string Listed(ReleaseFacts facts) => string.Join(", ", facts.Models.Values.Select(m => m.Code).Order(StringComparer.Ordinal));
}

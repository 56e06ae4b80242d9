using KitOrders.Rules;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

/// <param name="Loader">Who loads the files.</param>
/// <param name="Loaded">The files that are in already, where a load was interrupted.</param>
public sealed record DemoLoad(Actor Loader, IReadOnlySet<string> Loaded);

/// <summary>Opens an empty database for the demo plant's files, and afterwards lets anybody go on as its invented people.</summary>
public sealed class DemoPlant(Desk desk)
{
    const string LoaderName = "demo loader";
    const string Began = "begin-demo";
    const string Ended = "end-demo";

    /// <summary>
    /// Answers who loads the files and which of them are in: each is written as a whole, so that a load that was cut off goes
    /// on with the next. Refused with <c>not-empty</c> in a plant that has something else recorded.
    /// </summary>
    public Task<Outcome<DemoLoad>> Begin(CancellationToken ct) => desk.WriteUnsigned<DemoLoad>(Began, async work =>
    {
        if (await Unfinished(work) is { } begun)
        {
            work.ActAs(begun.Loader);
            work.Audit("demo plant", $"Went on loading the demo plant, of which {begun.Loaded.Count} files were in.");
            return begun;
        }
        if (await work.Db.Parts.AnyAsync(ct) || await work.Db.Positions.AnyAsync(ct) || await work.Db.People.AnyAsync(p => p.Name != Bootstrap.Name, ct))
            return Refusal.Conflict("not-empty", "Something is recorded here already; the demo plant goes into an empty database only.");
        var loader = new Person { Name = LoaderName, Roles = Roles.All };
        work.Db.People.Add(loader);
        await work.Db.SaveChangesAsync(ct);
        work.ActAs(PersonActions.ActorOf(loader));
        work.Audit("demo plant", "Began to load the demo plant into an empty database.");
        return new DemoLoad(PersonActions.ActorOf(loader), new HashSet<string>());
    }, ct);

    /// <summary>What the record says of a load that began and did not end; nobody else writes under these names.</summary>
    static async Task<DemoLoad?> Unfinished(Work work)
    {
        var began = await work.Db.Audit.Where(a => a.Operation == Began).OrderBy(a => a.Id).Select(a => (PersonId?)a.PersonId).FirstOrDefaultAsync(work.Ct);
        if (began is not { } loader || await work.Db.Audit.AnyAsync(a => a.Operation == Ended, work.Ct))
            return null;
        var files = await work.Db.Audit.Where(a => a.PersonId == loader && a.Operation == nameof(ImportFile)).Select(a => a.Subject).ToListAsync(work.Ct);
        return new DemoLoad(PersonActions.ActorOf(await work.Db.People.SingleAsync(p => p.Id == loader, work.Ct)), files.Select(ImportFile.FileOf).ToHashSet());
    }

    /// <summary>The files are in: their people are marked as invented, and whoever loaded them can do nothing more.</summary>
    public Task<Outcome<Done>> End(Actor loader, CancellationToken ct) => desk.WriteUnsigned<Done>(Ended, async work =>
    {
        work.ActAs(loader);
        await work.Db.People.Where(p => p.Name != Bootstrap.Name && p.Id != loader.Person).ExecuteUpdateAsync(set => set.SetProperty(p => p.Demo, true), ct);
        await work.Db.People.Where(p => p.Id == loader.Person).ExecuteUpdateAsync(set => set.SetProperty(p => p.Active, false).SetProperty(p => p.Roles, Roles.None), ct);
        work.Audit("demo plant", "Loaded the demo plant; its people are invented.");
        return Done.Value;
    }, ct);
}

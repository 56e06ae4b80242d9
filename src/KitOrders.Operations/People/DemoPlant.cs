using KitOrders.Rules;
using KitOrders.Rules.People;
using Microsoft.EntityFrameworkCore;

namespace KitOrders.Operations.People;

/// <summary>Opens an empty database for the demo plant's files, and afterwards lets anybody go on as its invented people.</summary>
public sealed class DemoPlant(Desk desk)
{
    const string LoaderName = "demo loader";

    /// <summary>Answers who loads the files; refused with <c>not-empty</c> in a plant that has something recorded.</summary>
    public Task<Outcome<Actor>> Begin(CancellationToken ct) => desk.WriteUnsigned<Actor>("begin-demo", async work =>
    {
        if (await work.Db.Parts.AnyAsync(ct) || await work.Db.Positions.AnyAsync(ct) || await work.Db.People.AnyAsync(p => p.Name != Bootstrap.Name, ct))
            return Refusal.Conflict("not-empty", "Something is recorded here already; the demo plant goes into an empty database only.");
        var loader = new Person { Name = LoaderName, Roles = Roles.All };
        work.Db.People.Add(loader);
        await work.Db.SaveChangesAsync(ct);
        work.ActAs(PersonActions.ActorOf(loader));
        work.Audit("demo plant", "Began to load the demo plant into an empty database.");
        return PersonActions.ActorOf(loader);
    }, ct);

    /// <summary>The files are in: their people are marked as invented, and whoever loaded them can do nothing more.</summary>
    public Task<Outcome<Done>> End(Actor loader, CancellationToken ct) => desk.WriteUnsigned<Done>("end-demo", async work =>
    {
        work.ActAs(loader);
        await work.Db.People.Where(p => p.Name != Bootstrap.Name && p.Id != loader.Person).ExecuteUpdateAsync(set => set.SetProperty(p => p.Demo, true), ct);
        await work.Db.People.Where(p => p.Id == loader.Person).ExecuteUpdateAsync(set => set.SetProperty(p => p.Active, false).SetProperty(p => p.Roles, Roles.None), ct);
        work.Audit("demo plant", "Loaded the demo plant; its people are invented.");
        return Done.Value;
    }, ct);
}

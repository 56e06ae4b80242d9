using KitOrders.Operations.People;
using KitOrders.Rules.People;
using static KitOrders.Operations.Tests.Orders.OrderBench;

namespace KitOrders.Operations.Tests.Faults;

static partial class WriteCalls
{
    public static IReadOnlyDictionary<string, WriteCall> People { get; } = new Dictionary<string, WriteCall>
    {
        ["AddPerson.Run"] = new((desk, n, key) => Said.Of(new AddPerson(desk).Run(new(n.Everybody, key), new NewPerson("Nora New", Roles.Planner, "Fitters"), Ct))),
        ["ChangePerson.Run"] = new((desk, n, key) => Said.Of(new ChangePerson(desk).Run(new(n.Everybody, key), new PersonChange(n.Linked, Roles.Technician, null, false), Ct))),
        ["ChangePlant.Run"] = new((desk, n, key) => Said.Of(new ChangePlant(desk).Run(new(n.Everybody, key), "currency", "CHF", Ct))),
        ["ChangePassword.Run"] = new((desk, n, key) => Said.Of(new ChangePassword(desk).Run(new(Signed(n), key), PlantNames.Password, "five other dry words here", Ct))),
        ["EndSessions.Run"] = new((desk, n, key) => Said.Of(new EndSessions(desk).Run(new(n.Everybody, key), n.Signed, Ct))),
        ["SetPin.Run"] = new((desk, n, key) => Said.Of(new SetPin(desk).Run(new(n.Planner, key), "2580", Ct))),
        ["ResetPin.Run"] = new((desk, n, key) => Said.Of(new ResetPin(desk).Run(new(n.Everybody, key), n.Technician.Person, Ct))),
        ["RevokeToken.Run"] = new((desk, n, key) => Said.Of(new RevokeToken(desk).Run(new(n.Everybody, key), n.Token, Ct))),
        ["MakeToken.Run"] = new((desk, n, _) => Said.Of(new MakeToken(desk).Run(new(n.Everybody), new NewToken(n.Linked, "weekly"), Ct))) { Keyed = false },
        ["MakeSignIn.Run"] = new((desk, n, _) => Said.Of(new MakeSignIn(desk).Run(new(n.Everybody), new NewSignIn(n.Planner.Person, "p.planner"), Ct))) { Keyed = false },
        ["CheckPin.Run"] = new((desk, n, _) => Said.Of(new CheckPin(desk).Run(new(n.Planner), n.Technician.Name, PlantNames.Pin, Ct))) { Keyed = false },
        ["UseSignInLink.Run"] = new((desk, n, _) => Said.Of(new UseSignInLink(desk).Run(n.LinkSecret, "five other dry words here", null, Ct))) { Keyed = false },
        ["ContinueAs.Run"] = new((desk, n, _) => Said.Of(new ContinueAs(desk).Run(n.Invented, null, Ct))) { Keyed = false },
        ["DemoPlant.End"] = new((desk, n, _) => Said.Of(new DemoPlant(desk).End(n.Everybody, Ct))) { Keyed = false },
        ["DemoPlant.Begin"] = new((desk, _, _) => Said.Of(new DemoPlant(desk).Begin(Ct))) { Keyed = false, OnEmpty = true },
        ["EnsureBootstrap.Run"] = new((desk, _, _) => Said.Of(new EnsureBootstrap(desk).Run(Ct))) { Keyed = false, OnEmpty = true },
        ["FirstAdministrator.MakeLink"] = new((desk, _, _) => Said.Of(new FirstAdministrator(desk).MakeLink(Ct))) { Keyed = false, OnEmpty = true },
        ["FirstAdministrator.Run"] = new((desk, n, _) => Said.Of(new FirstAdministrator(desk)
            .Run(n.FirstSecret, new NewAdministrator("Ada First", "ada", PlantNames.Password), null, Ct))) { Keyed = false, OnEmpty = true },
        ["ImportFile.Run"] = new((desk, n, key) => Said.Of(new ImportFile(desk).Run(new(n.Everybody, key), "stock",
            "part,lot,bin,quantity,received_on,unit_cost\nC,C-7,A-1,3,today-2,40\nE,E-7,B-1,4,today-2,6\n", false, null, Ct))),
    };

    public static IEnumerable<KeyValuePair<string, WriteCall>> All => [.. Stock, .. Orders, .. People, .. Procedures, .. Kits, .. Parts, .. Campaigns];

    static Actor Signed(PlantNames n) => new(n.Signed, "Sam Signed", Roles.Administrator | Roles.Planner);
}

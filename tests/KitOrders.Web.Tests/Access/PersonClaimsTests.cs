using System.Security.Claims;
using KitOrders.Operations;
using KitOrders.Rules.People;
using KitOrders.Web.Access;
using KitOrders.Web.Layout;
using Xunit;

namespace KitOrders.Web.Tests.Access;

public sealed class PersonClaimsTests
{
    [Fact]
    public void A_person_comes_out_of_a_sign_in_as_they_went_in()
    {
        var actor = new Actor(new PersonId(7), "Ines Valdorf", Roles.Planner | Roles.Manager, "token");
        var user = new ClaimsPrincipal(PersonClaims.Identity(actor, "test"));
        Assert.Equal(actor, user.ActorOf());
        Assert.True(user.IsInRole("Planner"));
        Assert.False(user.IsInRole("Administrator"));
        Assert.Equal(Roles.Planner | Roles.Manager, Work.RolesOf(user));
        Assert.Equal("Ines Valdorf, planner", Work.Person(user));
    }

    [Fact]
    public void Nobody_is_not_taken_for_somebody()
    {
        Assert.Null(new ClaimsPrincipal().TryActorOf());
        Assert.Throws<InvalidOperationException>(() => new ClaimsPrincipal(new ClaimsIdentity()).ActorOf());
    }
}

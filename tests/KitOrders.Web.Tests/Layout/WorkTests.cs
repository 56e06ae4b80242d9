using System.Security.Claims;
using KitOrders.Rules.People;
using KitOrders.Web.Layout;
using Xunit;

namespace KitOrders.Web.Tests.Layout;

public sealed class WorkTests
{
    [Theory]
    [InlineData(Roles.Planner, "Today Orders Kits Pumps Storeroom Readiness Backlog Setup")]
    [InlineData(Roles.Storeroom, "Today Orders Kits Storeroom Setup")]
    [InlineData(Roles.Technician, "Today Orders Pumps Setup")]
    [InlineData(Roles.Manager, "Today Orders Kits Pumps Readiness Backlog Setup")]
    // An administrator alone has no operational rights.
    [InlineData(Roles.Administrator, "Today Setup")]
    [InlineData(Roles.None, "")]
    public void People_see_the_words_their_role_uses(Roles roles, string words) =>
        Assert.Equal(words, string.Join(' ', Work.Of(roles).Select(w => w.Word)));

    [Theory]
    [InlineData(Roles.Planner)]
    [InlineData(Roles.Storeroom)]
    [InlineData(Roles.Technician)]
    [InlineData(Roles.Manager)]
    [InlineData(Roles.Administrator)]
    public void The_words_under_the_thumb_are_at_most_three_and_all_in_the_strip(Roles role)
    {
        var thumb = Work.UnderTheThumb(role);
        Assert.InRange(thumb.Count, 2, 3);
        Assert.Subset(Work.Of(role).ToHashSet(), thumb.ToHashSet());
    }

    [Fact]
    public void A_person_is_named_with_what_they_do_here()
    {
        var user = new ClaimsPrincipal(new ClaimsIdentity(
            [new(ClaimTypes.Name, "i.valdorf"), new("full_name", "Ines Valdorf"), new(ClaimTypes.Role, "Planner")], "test"));
        Assert.Equal("Ines Valdorf, planner", Work.Person(user));
        Assert.Equal(Roles.Planner, Work.RolesOf(user));
    }

    [Fact]
    public void No_two_words_claim_the_same_part_of_the_address()
    {
        var segments = Work.All.SelectMany(w => w.Segments).ToArray();
        Assert.NotEmpty(segments);
        Assert.Equal(segments.Length, segments.Distinct().Count());
    }
}

using System.Reflection;
using KitOrders.Rules.People;
using KitOrders.Web.Access;
using KitOrders.Web.Layout;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components;
using Xunit;

namespace KitOrders.Web.Tests.Access;

public sealed class PageAuthorisationTests
{
    static readonly IReadOnlyList<Type> pages =
        [.. typeof(App).Assembly.GetTypes().Where(t => t.GetCustomAttributes<RouteAttribute>(inherit: false).Any())];

    [Fact]
    public void Every_page_says_whose_it_is()
    {
        Assert.True(pages.Count >= 10, $"Only {pages.Count} pages were found.");
        Assert.Contains(pages, p => p.Name == "PeoplePage");
        Assert.Empty(pages.Where(p => !Says<AuthorizeAttribute>(p) && !Says<AllowAnonymousAttribute>(p)).Select(p => p.FullName));
    }

    [Fact]
    public void Only_these_pages_open_without_a_sign_in()
    {
        string[] open = ["/docs/api", "/error", "/first-use/{Secret}", "/not-found", "/set-up/{Secret}", "/sign-in"];
        Assert.Equal(open, pages.Where(Says<AllowAnonymousAttribute>).SelectMany(Routes).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void What_an_administrator_looks_after_opens_for_administrators_alone()
    {
        var administrators = pages.Where(p => Routes(p).Any(r => r is "/setup/people" or "/setup/tokens" or "/setup/audit")).ToList();
        Assert.Equal(3, administrators.Count);
        Assert.All(administrators, p => Assert.Equal(Roles.Administrator, p.GetCustomAttribute<ForAttribute>()!.AnyOf));
    }

    [Fact]
    public void Any_one_of_the_roles_named_opens_a_page() =>
        Assert.Equal("Planner,Manager", new ForAttribute(Roles.Planner | Roles.Manager).Roles);

    static bool Says<T>(Type page) where T : Attribute => page.GetCustomAttributes<T>(inherit: true).Any();

    static IEnumerable<string> Routes(Type page) => page.GetCustomAttributes<RouteAttribute>(inherit: false).Select(r => r.Template);
}

using System.Globalization;
using System.Security.Claims;
using KitOrders.Operations;
using KitOrders.Operations.People;
using KitOrders.Rules.People;
using KitOrders.Storage.People;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;

namespace KitOrders.Web.Access;

/// <summary>How a person stands in a sign-in: their id and name, and a role claim for each role.</summary>
public static class PersonClaims
{
    public const string Person = "person";

    const string Device = "device";

    public static ClaimsIdentity Identity(Actor actor, string scheme)
    {
        var identity = new ClaimsIdentity(scheme, ClaimTypes.Name, ClaimTypes.Role);
        identity.AddClaim(new Claim(ClaimTypes.Name, actor.Name));
        identity.AddClaim(new Claim(Person, actor.Person.Value.ToString(CultureInfo.InvariantCulture)));
        identity.AddClaims(RoleText.Each(actor.Roles).Select(role => new Claim(ClaimTypes.Role, role.ToString())));
        if (actor.Device is { } device)
        {
            identity.AddClaim(new Claim(Device, device));
        }

        return identity;
    }

    /// <summary>The person as operations want them. Asking for nobody is a bug: the page or endpoint lacks its authorisation.</summary>
    public static Actor ActorOf(this ClaimsPrincipal user, string? device = null) => TryActorOf(user, device)
        ?? throw new InvalidOperationException("Nobody is signed in here.");

    public static Actor? TryActorOf(this ClaimsPrincipal user, string? device = null) =>
        int.TryParse(user.FindFirstValue(Person), CultureInfo.InvariantCulture, out var id)
            ? new Actor(new PersonId(id), user.FindFirstValue(ClaimTypes.Name) ?? "", RolesOf(user), device ?? user.FindFirstValue(Device))
            : null;

    /// <summary>The account behind the session; null for a token.</summary>
    public static int? AccountOf(this ClaimsPrincipal user) =>
        int.TryParse(user.FindFirstValue(ClaimTypes.NameIdentifier), CultureInfo.InvariantCulture, out var id) ? id : null;

    static Roles RolesOf(ClaimsPrincipal user) => user.FindAll(ClaimTypes.Role)
        .Aggregate(Roles.None, (all, claim) => Enum.TryParse<Roles>(claim.Value, out var role) ? all | role : all);
}

/// <summary>Makes the sign-in of an account from its person, anew whenever the session is looked at again.</summary>
sealed class PersonClaimsFactory(SignedIn people, IOptions<IdentityOptions> options) : IUserClaimsPrincipalFactory<Account>
{
    public async Task<ClaimsPrincipal> CreateAsync(Account user)
    {
        var person = await people.Read(user.Id, CancellationToken.None)
            ?? throw new InvalidOperationException($"Account {user.Id} has no person.");
        var identity = PersonClaims.Identity(person.Actor, IdentityConstants.ApplicationScheme);
        identity.AddClaim(new Claim(ClaimTypes.NameIdentifier, user.Id.ToString(CultureInfo.InvariantCulture)));
        identity.AddClaim(new Claim(options.Value.ClaimsIdentity.SecurityStampClaimType, user.SecurityStamp ?? ""));
        return new ClaimsPrincipal(identity);
    }
}

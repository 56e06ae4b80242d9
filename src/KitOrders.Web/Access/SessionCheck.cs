using KitOrders.Operations.People;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Components.Server;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;

namespace KitOrders.Web.Access;

/// <summary>
/// Looks every minute whether the person at an open page may still be there as they came. If not, the page asks them to
/// sign in; whoever merely got other roles is back at once with those.
/// </summary>
sealed class SessionCheck(ILoggerFactory log, SignedIn people, IOptions<IdentityOptions> options) : RevalidatingServerAuthenticationStateProvider(log)
{
    protected override TimeSpan RevalidationInterval => Access.LookAgain;

    protected override async Task<bool> ValidateAuthenticationStateAsync(AuthenticationState authenticationState, CancellationToken cancellationToken)
    {
        var user = authenticationState.User;
        if (user.Identity?.IsAuthenticated != true)
        {
            return true;
        }

        return user.AccountOf() is { } account
            && await people.Read(account, cancellationToken) is { Active: true } now
            && now.Stamp == user.FindFirst(options.Value.ClaimsIdentity.SecurityStampClaimType)?.Value
            && now.Actor.Roles == user.ActorOf().Roles;
    }
}

using KitOrders.Operations;
using Microsoft.AspNetCore.Components.Authorization;

namespace KitOrders.Web.Access;

/// <summary>The person at this page, for components. Endpoints ask <see cref="PersonClaims.ActorOf"/> of their request's user.</summary>
public sealed class CurrentActor(AuthenticationStateProvider state)
{
    public async Task<Actor> Get() => (await state.GetAuthenticationStateAsync()).User.ActorOf();

    /// <summary>A call of an operation by the person at this page.</summary>
    /// <param name="seenVersion">The version of the thing that the page shows.</param>
    public async Task<Call> Call(long? seenVersion = null) => new(await Get(), SeenVersion: seenVersion);
}

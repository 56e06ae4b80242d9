using System.Security.Claims;
using System.Text.Encodings.Web;
using KitOrders.Operations.People;
using Microsoft.AspNetCore.Authentication;
using Microsoft.Extensions.Options;

namespace KitOrders.Web.Access;

/// <summary>Lets a script in by <c>Authorization: Bearer TOKEN</c>, as the person the token belongs to.</summary>
sealed class TokenAuthentication(
    IOptionsMonitor<AuthenticationSchemeOptions> options, ILoggerFactory logger, UrlEncoder encoder, TokenHolder holders, BootstrapToken bootstrap)
    : AuthenticationHandler<AuthenticationSchemeOptions>(options, logger, encoder)
{
    public const string Name = "Token";

    const string Prefix = "Bearer ";

    public static bool IsOffered(HttpRequest request) =>
        request.Headers.Authorization.ToString().StartsWith(Prefix, StringComparison.OrdinalIgnoreCase);

    protected override async Task<AuthenticateResult> HandleAuthenticateAsync()
    {
        if (!IsOffered(Request))
        {
            return AuthenticateResult.NoResult();
        }

        var token = Request.Headers.Authorization.ToString()[Prefix.Length..].Trim();
        var actor = bootstrap.Is(token) ? await holders.ReadBootstrap(Context.RequestAborted) : await holders.Read(token, Context.RequestAborted);
        return actor is null
            ? AuthenticateResult.Fail("The token stands for nobody.")
            : AuthenticateResult.Success(new AuthenticationTicket(new ClaimsPrincipal(PersonClaims.Identity(actor, Name)), Name));
    }

    protected override Task HandleChallengeAsync(AuthenticationProperties properties) => ApiProblem.Unknown(Context);

    protected override Task HandleForbiddenAsync(AuthenticationProperties properties) => ApiProblem.NotAllowed(Context);
}

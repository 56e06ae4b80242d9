using KitOrders.Operations.People;
using KitOrders.Storage;
using KitOrders.Storage.People;
using KitOrders.Web.Layout;
using Microsoft.AspNetCore.Authentication;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Components.Authorization;
using Microsoft.AspNetCore.Components.Server;
using Microsoft.AspNetCore.Identity;

namespace KitOrders.Web.Access;

/// <summary>Who may come in and how: what the host needs for it, in two calls.</summary>
public static class Access
{
    /// <summary>How often a session is held against the record again.</summary>
    public static readonly TimeSpan LookAgain = TimeSpan.FromMinutes(1);

    /// <summary>A session ends after so long without a request: a shift.</summary>
    static readonly TimeSpan shift = TimeSpan.FromHours(12);

    const string CookieOrToken = "CookieOrToken";

    public static WebApplicationBuilder AddAccess(this WebApplicationBuilder builder)
    {
        var services = builder.Services;
        AddSignIn(services);
        services.AddAuthorizationBuilder().SetFallbackPolicy(new AuthorizationPolicyBuilder().RequireAuthenticatedUser().Build());
        services.AddAntiforgery(options =>
        {
            options.HeaderName = ApiAntiforgery.Header;
            options.Cookie.Name = "kitorders-forms";
            options.Cookie.HttpOnly = true;
            options.Cookie.SameSite = SameSiteMode.Strict;
            options.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
        });
        services.AddRateLimiter(CallLimits.Add);
        services.AddSingleton<SignInLimiter>();
        services.AddSingleton<BootstrapToken>();
        services.AddSingleton<Entrance>();
        services.AddScoped<SignInGate>();
        services.AddScoped<CurrentActor>();
        services.AddScoped(s => s.GetRequiredService<Entrance>().Banner);
        services.AddScoped<AuthenticationStateProvider, SessionCheck>();
        return builder;
    }

    static void AddSignIn(IServiceCollection services)
    {
        services.AddAuthentication(CookieOrToken)
            .AddPolicyScheme(CookieOrToken, null, options => options.ForwardDefaultSelector = http =>
                TokenAuthentication.IsOffered(http.Request) ? TokenAuthentication.Name : IdentityConstants.ApplicationScheme)
            .AddScheme<AuthenticationSchemeOptions, TokenAuthentication>(TokenAuthentication.Name, null)
            .AddIdentityCookies();
        services.AddIdentityCore<Account>(options =>
        {
            options.Lockout.MaxFailedAccessAttempts = 10;
            options.Lockout.DefaultLockoutTimeSpan = TimeSpan.FromMinutes(5);
            options.User.AllowedUserNameCharacters = "";
        }).AddSignInManager().AddKitOrdersAccounts();
        services.AddScoped<IUserClaimsPrincipalFactory<Account>, PersonClaimsFactory>();
        services.Configure<PasswordHasherOptions>(options => options.IterationCount = Passwords.Rounds);
        services.Configure<SecurityStampValidatorOptions>(options => options.ValidationInterval = LookAgain);
        services.ConfigureApplicationCookie(options =>
        {
            options.Cookie.Name = "kitorders";
            options.Cookie.HttpOnly = true;
            options.Cookie.SameSite = SameSiteMode.Lax;
            options.Cookie.SecurePolicy = CookieSecurePolicy.SameAsRequest;
            options.ExpireTimeSpan = shift;
            options.SlidingExpiration = true;
            options.LoginPath = "/sign-in";
            options.ReturnUrlParameter = "returnUrl";
            options.Events.OnRedirectToLogin = context => Answer(context.HttpContext, context.RedirectUri, ApiProblem.Unknown);
            options.Events.OnRedirectToAccessDenied = context => Answer(context.HttpContext, "/not-yours", ApiProblem.NotAllowed);
        });
    }

    /// <summary>Call before the pages and the API are put into the pipeline.</summary>
    public static WebApplication UseAccess(this WebApplication app)
    {
        app.UseSecurityHeaders();
        app.UseAuthentication();
        app.UseRateLimiter();
        app.UseApiAntiforgery();
        app.UseAuthorization();
        app.MapApiAntiforgery();
        SignOut.Map(app);
        return app;
    }

    static Task Answer(HttpContext http, string page, Func<HttpContext, Task> problem)
    {
        if (ApiProblem.Concerns(http.Request))
        {
            return problem(http);
        }

        http.Response.Redirect(page);
        return Task.CompletedTask;
    }
}

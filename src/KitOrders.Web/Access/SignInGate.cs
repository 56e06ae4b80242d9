using KitOrders.Operations.People;
using KitOrders.Storage.People;
using Microsoft.AspNetCore.Identity;

namespace KitOrders.Web.Access;

public enum SignInAnswer
{
    In,

    /// <summary>Unknown, wrong, locked, put off the list or without a password: which of them is not said.</summary>
    Refused,
    TooMany,
}

/// <summary>
/// Signs people in by name and password. All that is refused looks the same and takes the same time, so that nobody learns
/// who has an account here.
/// </summary>
public sealed class SignInGate(
    UserManager<Account> accounts, SignInManager<Account> signIn, SignedIn people, SignInLimiter limiter, TimeProvider clock, ILogger<SignInGate> log)
{
    /// <summary>Longer than a look at the record and the hash take.</summary>
    static readonly TimeSpan refusalTakes = TimeSpan.FromSeconds(1);

    public async Task<SignInAnswer> Try(string userName, string password, string address)
    {
        if (!limiter.MayTry(userName, address))
        {
            log.LogWarning("Too many sign-in tries from {Address}", address);
            return SignInAnswer.TooMany;
        }

        var began = clock.GetTimestamp();
        if (await Judge(userName, password) is { } account)
        {
            await signIn.SignInAsync(account, isPersistent: true);
            log.LogInformation("Account {Account} signed in from {Address}", account.Id, address);
            return SignInAnswer.In;
        }

        log.LogWarning("A sign-in was refused from {Address}", address);
        var rest = refusalTakes - clock.GetElapsedTime(began);
        if (rest > TimeSpan.Zero)
        {
            await Task.Delay(rest, clock);
        }

        return SignInAnswer.Refused;
    }

    /// <summary>Signs in an account that another way has already vouched for: a link, or the demo plant.</summary>
    public async Task Let(int account)
    {
        var known = await accounts.FindByIdAsync(account.ToString(System.Globalization.CultureInfo.InvariantCulture));
        await signIn.SignInAsync(known ?? throw new InvalidOperationException($"There is no account {account}."), isPersistent: true);
    }

    public Task Leave() => signIn.SignOutAsync();

    async Task<Account?> Judge(string userName, string password)
    {
        var account = userName.Length <= 256 && password.Length <= Passwords.MaxLength ? await accounts.FindByNameAsync(userName.Trim()) : null;
        if (account is null || account.PasswordHash is null || await accounts.IsLockedOutAsync(account))
        {
            Passwords.Matches(null, password);
            return null;
        }

        if (!await accounts.CheckPasswordAsync(account, password))
        {
            await accounts.AccessFailedAsync(account);
            return null;
        }

        if (await people.Read(account.Id, CancellationToken.None) is not { Active: true })
        {
            return null;
        }

        await accounts.ResetAccessFailedCountAsync(account);
        return account;
    }
}

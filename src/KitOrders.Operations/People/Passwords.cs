using KitOrders.Rules;
using KitOrders.Storage.People;
using Microsoft.AspNetCore.Identity;
using Microsoft.Extensions.Options;

namespace KitOrders.Operations.People;

/// <summary>What a password must be, and how it and the pins are hashed. Length counts, composition does not.</summary>
public static class Passwords
{
    public const int MinLength = 8;

    public const int MaxLength = 200;

    /// <summary>Rounds of PBKDF2 with HMAC-SHA512; a hash made with fewer is made anew at the next sign-in.</summary>
    public const int Rounds = 220_000;

    static readonly PasswordHasher<Account> hasher = new(Options.Create(new PasswordHasherOptions { IterationCount = Rounds }));

    static readonly Account nobody = new();

    // What is tried first everywhere. Names of the place and the person are refused as well.
    static readonly HashSet<string> guessedFirst = new(StringComparer.OrdinalIgnoreCase)
    {
        "password", "password1", "passw0rd", "p@ssw0rd", "12345678", "123456789", "1234567890", "87654321", "11223344", "qwertyui",
        "qwerty123", "qwertyuiop", "1q2w3e4r", "1qaz2wsx", "iloveyou", "sunshine", "princess", "football", "baseball", "welcome1",
        "letmein1", "changeme", "changeme1", "trustno1", "superman", "administrator", "admin123", "admin1234", "pump2026", "pump2026!",
    };

    public static string Hash(string secret) => hasher.HashPassword(nobody, secret);

    /// <summary>Takes as long for nobody (no hash) as for somebody, so that time tells nothing.</summary>
    public static bool Matches(string? hash, string secret) =>
        hasher.VerifyHashedPassword(nobody, hash ?? Unmatchable.Hash, secret) != PasswordVerificationResult.Failed && hash is not null;

    /// <summary>The sentence that says why this cannot be a password, or null.</summary>
    public static Refusal? Refuse(string password, params string?[] names)
    {
        if (password.Length < MinLength)
            return No($"A password has at least {MinLength} characters. A few words in a row are good; signs and digits are not asked for.");
        if (password.Length > MaxLength)
            return No($"A password has at most {MaxLength} characters.");
        if (guessedFirst.Contains(password) || password.Distinct().Count() < 3)
            return No("This password is among the first that anybody would try. Choose another, such as a few words in a row.");
        if (names.Append("KitOrders").OfType<string>().Where(n => n.Length > 2).FirstOrDefault(n => IsHardlyMore(password, n)) is { } name)
            return No($"This password is little more than the name {name}. Choose another, such as a few words in a row.");
        return null;
    }

    static bool IsHardlyMore(string password, string name) =>
        password.Contains(name, StringComparison.OrdinalIgnoreCase) && password.Length - name.Length < 6;

    static Refusal No(string sentence) => Refusal.Field("password", "password-refused", sentence);

    static class Unmatchable
    {
        public static readonly string Hash = Passwords.Hash(Secrets.New());
    }
}

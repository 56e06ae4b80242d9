using System.Security.Cryptography;
using System.Text;
using KitOrders.Rules;

namespace KitOrders.Web.Access;

/// <summary>The token that the operator may set in the configuration, to drive a plant that has nobody yet.</summary>
public sealed class BootstrapToken
{
    public const string Key = "KitOrders:Api:BootstrapToken";

    public const int MinLength = 32;

    readonly byte[]? hash;

    public BootstrapToken(IConfiguration configuration)
    {
        if (configuration[Key] is { Length: >= MinLength } token)
        {
            hash = Hash(token);
        }
    }

    public bool IsSet => hash is not null;

    public bool Is(string token) => hash is not null && CryptographicOperations.FixedTimeEquals(hash, Hash(token));

    /// <summary>Why the program must not start like this, or null.</summary>
    public static Refusal? Refuse(IConfiguration configuration) => configuration[Key] is { Length: > 0 and < MinLength } token
        ? Refusal.Invalid("bootstrap-token-short",
            $"KitOrders__Api__BootstrapToken has {token.Length} characters and needs at least {MinLength}, because whoever knows it may do everything. " +
            "Set a longer one, such as the output of: openssl rand -hex 32. Or leave it out.")
        : null;

    static byte[] Hash(string token) => SHA256.HashData(Encoding.UTF8.GetBytes(token));
}

using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;

namespace KitOrders.Operations.People;

/// <summary>Secrets that the house makes: 256 bits nobody can guess, so a plain hash is enough to keep them by.</summary>
static class Secrets
{
    public static string New() => Base64Url.EncodeToString(RandomNumberGenerator.GetBytes(32));

    public static string Hash(string secret) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(secret)));

    /// <summary>A new stamp ends every session that was begun under the old one.</summary>
    public static string Stamp() => Convert.ToHexString(RandomNumberGenerator.GetBytes(20));
}

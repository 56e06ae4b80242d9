using System.Buffers.Binary;
using KitOrders.Operations.People;
using Xunit;

namespace KitOrders.Operations.Tests.People;

public sealed class PasswordsTests
{
    // OWASP ASVS 5.0.0, requirements 6.2.1 (at least 8), 6.2.5 (no composition rules), 6.2.9 (at least 64 allowed).
    [Theory]
    [InlineData(7, false)]
    [InlineData(8, true)]
    [InlineData(64, true)]
    [InlineData(128, true)]
    [InlineData(200, true)]
    [InlineData(201, false)]
    public void Length_alone_decides(int length, bool taken)
    {
        var password = string.Concat(Enumerable.Range(0, length).Select(n => (char)('a' + (n * 7 % 26))));
        Assert.Equal(taken, Passwords.Refuse(password) is null);
    }

    [Theory]
    [InlineData("only small words", true)]
    [InlineData("пять старых лодок", true)]
    [InlineData("password1", false)]
    [InlineData("PASSWORD1", false)]
    [InlineData("aaaaaaaaaaaa", false)]
    [InlineData("kitorders1", false)]
    [InlineData("Tarnholt12", false)]
    [InlineData("i.valdorf2", false)]
    public void What_would_be_guessed_first_is_refused_and_nothing_else(string password, bool taken) =>
        Assert.Equal(taken, Passwords.Refuse(password, "i.valdorf", "Ines Valdorf", "Tarnholt") is null);

    // OWASP ASVS 5.0.0, appendix C: PBKDF2-HMAC-SHA512 with at least 210,000 iterations. The version-3 layout of the hash
    // is the framework's own: marker 1, then PRF (2 = HMACSHA512), iterations and salt length as big-endian numbers.
    [Fact]
    public void A_hash_is_made_with_at_least_220_000_rounds_of_sha512_and_128_bits_of_salt()
    {
        var hash = Convert.FromBase64String(Passwords.Hash("four dry words here"));
        Assert.Equal(1, hash[0]);
        Assert.Equal(2u, BinaryPrimitives.ReadUInt32BigEndian(hash.AsSpan(1)));
        Assert.True(BinaryPrimitives.ReadUInt32BigEndian(hash.AsSpan(5)) >= 220_000);
        Assert.True(BinaryPrimitives.ReadUInt32BigEndian(hash.AsSpan(9)) >= 16);
    }

    [Fact]
    public void Nobody_has_a_password()
    {
        Assert.False(Passwords.Matches(null, ""));
        Assert.False(Passwords.Matches(null, "four dry words here"));
    }
}

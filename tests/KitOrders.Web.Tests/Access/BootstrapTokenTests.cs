using KitOrders.Web.Access;
using Microsoft.Extensions.Configuration;
using Xunit;

namespace KitOrders.Web.Tests.Access;

public sealed class BootstrapTokenTests
{
    static IConfiguration With(string? token) =>
        new ConfigurationBuilder().AddInMemoryCollection([new("KitOrders:Api:BootstrapToken", token)]).Build();

    [Fact]
    public void A_short_token_keeps_the_program_from_starting_and_is_not_repeated()
    {
        var refusal = BootstrapToken.Refuse(With(new string('k', 31)));
        Assert.Equal("bootstrap-token-short", refusal!.Code);
        Assert.Contains("31 characters", refusal.Sentence, StringComparison.Ordinal);
        Assert.DoesNotContain("kkk", refusal.Sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    public void Without_one_no_token_is_it(string? none)
    {
        Assert.Null(BootstrapToken.Refuse(With(none)));
        var token = new BootstrapToken(With(none));
        Assert.False(token.IsSet);
        Assert.False(token.Is(""));
    }

    [Fact]
    public void Only_the_whole_token_is_it()
    {
        var set = new string('k', 32);
        var token = new BootstrapToken(With(set));
        Assert.True(token.Is(set));
        Assert.False(token.Is(set + "k"));
        Assert.False(token.Is(set[1..]));
        Assert.False(token.Is(set.ToUpperInvariant()));
    }
}

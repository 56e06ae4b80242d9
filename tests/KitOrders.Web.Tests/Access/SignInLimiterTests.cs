using KitOrders.Web.Access;
using Xunit;

namespace KitOrders.Web.Tests.Access;

public sealed class SignInLimiterTests
{
    [Fact]
    public void Guessing_at_one_name_from_one_address_ends_and_keeps_nobody_else_out()
    {
        using var limiter = new SignInLimiter();
        var tries = Enumerable.Range(0, 8).Select(_ => limiter.MayTry("i.valdorf", "10.0.0.1")).ToList();
        Assert.Equal(SignInLimiter.PerNameAndAddress, tries.Count(may => may));
        Assert.False(limiter.MayTry(" I.VALDORF ", "10.0.0.1"));
        Assert.True(limiter.MayTry("j.venn", "10.0.0.1"));
        Assert.True(limiter.MayTry("i.valdorf", "10.0.0.2"));
    }

    [Fact]
    public void Guessing_at_many_names_from_one_address_ends_too()
    {
        using var limiter = new SignInLimiter();
        var tries = Enumerable.Range(0, 100).Count(n => limiter.MayTry($"name{n}", "10.0.0.1"));
        Assert.Equal(SignInLimiter.PerAddress, tries);
        Assert.True(limiter.MayTry("name1", "10.0.0.2"));
    }
}

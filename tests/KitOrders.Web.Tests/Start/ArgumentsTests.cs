using System.Net;
using System.Net.Sockets;
using KitOrders.Web.Start;
using Microsoft.Extensions.Configuration;
using Xunit;

namespace KitOrders.Web.Tests.Start;

public sealed class ArgumentsTests
{
    [Fact]
    public void Every_option_of_the_help_is_read()
    {
        Assert.Equal(new Arguments(), Arguments.Parse([]).Value);
        Assert.Equal(
            new Arguments { Fresh = true, NoDemo = true, Migrate = true, Data = "there", Urls = "http://localhost:5081" },
            Arguments.Parse(["--fresh", "--no-demo", "--migrate", "--data", "there", "--port=5081"]).Value);
        Assert.Equal("http://a:1;http://b:2", Arguments.Parse(["--urls", "http://a:1;http://b:2"]).Value.Urls);
        Assert.True(Arguments.Parse(["--help"]).Value.Help);
        foreach (var option in new[] { "--port", "--urls", "--data", "--fresh", "--no-demo", "--migrate", "--help" })
        {
            Assert.Contains(option, Arguments.Usage, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("no option \"--frehs\"", "--frehs")]
    [InlineData("no option \"5081\"", "5081")]
    [InlineData("--port needs a value", "--port")]
    [InlineData("--data needs a value", "--data=")]
    [InlineData("0 to 65535", "--port", "70000")]
    [InlineData("0 to 65535", "--port", "-1")]
    [InlineData("only once", "--port", "1", "--urls", "http://a")]
    [InlineData("--fresh takes no value", "--fresh=yes")]
    public void What_cannot_be_read_is_refused_with_what_is_wrong(string says, params string[] args)
    {
        var refusal = Arguments.Parse(args).Refusal!;

        Assert.Equal("arguments", refusal.Code);
        Assert.Contains(says, refusal.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void The_command_line_decides_the_address_before_the_environment()
    {
        var configured = new ConfigurationBuilder().AddInMemoryCollection([new("urls", "http://configured:1"), new("http_ports", "8080")]).Build();
        var container = new ConfigurationBuilder().AddInMemoryCollection([new("http_ports", "8080;8081")]).Build();
        var nothing = new ConfigurationBuilder().Build();

        Assert.Equal("http://given:2", Addresses.Choose(new Arguments { Urls = "http://given:2" }, configured));
        Assert.Equal("http://configured:1", Addresses.Choose(new Arguments(), configured));
        Assert.Equal("http://*:8080;http://*:8081", Addresses.Choose(new Arguments(), container));
        Assert.Equal("http://localhost:5080", Addresses.Choose(new Arguments(), nothing));
    }

    [Fact]
    public void A_taken_port_is_refused_with_another_way_and_a_free_one_is_not()
    {
        using var other = new TcpListener(IPAddress.Loopback, 0);
        other.Start();
        var url = $"http://localhost:{((IPEndPoint)other.LocalEndpoint).Port}";

        var refusal = Addresses.CheckFree(url)!;

        Assert.Equal("port-taken", refusal.Code);
        Assert.Contains(url, refusal.Sentence, StringComparison.Ordinal);
        Assert.Contains("--port", refusal.Sentence, StringComparison.Ordinal);
        other.Stop();
        Assert.Null(Addresses.CheckFree(url));
    }

    [Fact]
    public void An_address_that_is_none_is_refused() => Assert.Equal("address", Addresses.CheckFree("localhost")!.Code);
}

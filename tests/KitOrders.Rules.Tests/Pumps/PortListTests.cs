using KitOrders.Rules.Pumps;
using Xunit;

namespace KitOrders.Rules.Tests.Pumps;

public class PortListTests
{
    [Fact]
    public void Ports_are_read_in_the_order_written_and_printed_the_same_way()
    {
        var ports = PortList.Parse(" pilot = NPT 1/4 female;exhaust=G 1/2 female; ").Value;

        Assert.Equal(["pilot", "exhaust"], ports.Select(p => p.Name));
        Assert.Equal("pilot=NPT 1/4 female; exhaust=BSPP 1/2 female", PortList.Print(ports));
    }

    [Theory]
    [InlineData(null)]
    [InlineData("")]
    [InlineData(" ; ")]
    public void Nothing_written_is_no_port(string? text) => Assert.Empty(PortList.Parse(text).Value);

    [Theory]
    [InlineData("pilot", "port-list-unreadable")]
    [InlineData("=NPT 1/4", "port-list-unreadable")]
    [InlineData("pilot=", "port-list-unreadable")]
    [InlineData("pilot=NPT 1/4 female; Pilot=NPT 1/2 female", "port-list-unreadable")]
    [InlineData("pilot=NPT 9/4 female", "thread-size-unknown")]
    public void What_is_no_port_is_refused(string text, string code) => Assert.Equal(code, PortList.Parse(text).Refusal?.Code);

    [Fact]
    public void A_port_is_found_without_regard_to_case()
    {
        var ports = PortList.Parse("pilot=NPT 1/4 female").Value;
        Assert.Equal("pilot", PortList.Find(ports, "PILOT")?.Name);
        Assert.Null(PortList.Find(ports, "exhaust"));
    }
}

using KitOrders.Rules.Procedures;
using Xunit;

namespace KitOrders.Rules.Tests.Procedures;

public sealed class PhotographTests
{
    // ITU-T T.81 annex B: SOI marker FF D8, followed by the next marker's FF.
    static readonly byte[] jpeg = [0xFF, 0xD8, 0xFF, 0xE0, 0, 16];

    // ISO/IEC 15948 (PNG) clause 5.2: 137 80 78 71 13 10 26 10.
    static readonly byte[] png = [137, 80, 78, 71, 13, 10, 26, 10, 0, 0, 0, 13];

    // RFC 9649 section 2.4: 'RIFF', file size, 'WEBP'.
    static readonly byte[] webp = [.. "RIFF"u8, 4, 0, 0, 0, .. "WEBP"u8, .. "VP8 "u8];

    [Fact]
    public void A_picture_is_known_by_its_first_bytes()
    {
        Assert.Equal("image/jpeg", Photograph.TypeOf(jpeg).Value);
        Assert.Equal("image/png", Photograph.TypeOf(png).Value);
        Assert.Equal("image/webp", Photograph.TypeOf(webp).Value);
    }

    [Theory]
    [InlineData("")]
    [InlineData("<svg xmlns='http://www.w3.org/2000/svg'/>")]
    [InlineData("<!doctype html>")]
    [InlineData("%PDF-1.7")]
    [InlineData("RIFF....WAVEfmt ")]
    public void Whatever_else_it_is_called_it_is_no_picture(string content)
    {
        Assert.Equal("photograph-type", Photograph.TypeOf(System.Text.Encoding.ASCII.GetBytes(content)).Refusal!.Code);
    }

    [Fact]
    public void Five_megabytes_are_taken_and_one_byte_more_is_not()
    {
        var content = new byte[Photograph.MostBytes + 1];
        jpeg.CopyTo(content, 0);

        Assert.True(Photograph.TypeOf(content.AsSpan(0, Photograph.MostBytes)).IsDone);
        Assert.Equal("photograph-too-large", Photograph.TypeOf(content).Refusal!.Code);
    }
}

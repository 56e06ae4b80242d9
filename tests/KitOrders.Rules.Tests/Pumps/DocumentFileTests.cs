using System.Text;
using KitOrders.Rules.Pumps;
using Xunit;

namespace KitOrders.Rules.Tests.Pumps;

public sealed class DocumentFileTests
{
    // ISO 32000-1:2008, 7.5.2 "File header": the first line of a PDF file is %PDF- and a version number.
    static readonly byte[] pdf = [.. "%PDF-1.7\n"u8];

    // ISO/IEC 15948 (PNG) clause 5.2: 137 80 78 71 13 10 26 10.
    static readonly byte[] png = [137, 80, 78, 71, 13, 10, 26, 10, 0, 0, 0, 13];

    // ITU-T T.81 annex B: SOI marker FF D8, followed by the next marker's FF.
    static readonly byte[] jpeg = [0xFF, 0xD8, 0xFF, 0xE0, 0, 16];

    // RFC 9649 section 2.4: 'RIFF', file size, 'WEBP'.
    static readonly byte[] webp = [.. "RIFF"u8, 4, 0, 0, 0, .. "WEBP"u8, .. "VP8 "u8];

    [Fact]
    public void A_document_is_known_by_its_first_bytes()
    {
        Assert.Equal("application/pdf", DocumentFile.TypeOf(pdf).Value);
        Assert.Equal("image/png", DocumentFile.TypeOf(png).Value);
        Assert.Equal("image/jpeg", DocumentFile.TypeOf(jpeg).Value);
    }

    [Theory]
    [InlineData("")]
    [InlineData("<!doctype html><script>alert(1)</script>")]
    [InlineData("<svg xmlns='http://www.w3.org/2000/svg'/>")]
    [InlineData(" %PDF-1.7")]
    [InlineData("%PDF")]
    public void What_is_neither_a_pdf_nor_a_picture_is_refused(string content) =>
        Assert.Equal("document-type", DocumentFile.TypeOf(Encoding.UTF8.GetBytes(content)).Refusal?.Code);

    [Fact]
    public void A_picture_of_a_kind_that_not_every_reader_opens_is_no_document() => Assert.Equal("document-type", DocumentFile.TypeOf(webp).Refusal?.Code);

    [Fact]
    public void Five_megabytes_are_taken_and_not_one_byte_more()
    {
        Assert.Equal("application/pdf", DocumentFile.TypeOf([.. pdf, .. new byte[DocumentFile.MostBytes - pdf.Length]]).Value);
        Assert.Equal("document-too-large", DocumentFile.TypeOf([.. pdf, .. new byte[DocumentFile.MostBytes - pdf.Length + 1]]).Refusal?.Code);
    }
}

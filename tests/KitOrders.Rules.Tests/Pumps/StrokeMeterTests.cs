using KitOrders.Rules.Pumps;
using Xunit;

namespace KitOrders.Rules.Tests.Pumps;

public class StrokeMeterTests
{
    static readonly DateOnly Today = new(2026, 3, 2);

    [Theory]
    [InlineData(5_000, 0, false, null, null)]
    [InlineData(5_000, -1, false, null, null)]
    [InlineData(6_000, 0, false, "a note", null)]
    [InlineData(4_999, 0, false, "it was so", "strokes-below-last")]
    [InlineData(4_999, 0, true, null, "note-missing")]
    [InlineData(9_000, 0, true, " ", "note-missing")]
    [InlineData(0, 0, true, "new meter", null)]
    [InlineData(-1, 0, true, "new meter", "strokes-out-of-range")]
    [InlineData(StrokeMeter.Most, 0, false, null, null)]
    [InlineData(StrokeMeter.Most + 1, 0, false, null, "strokes-out-of-range")]
    [InlineData(6_000, 1, false, null, "reading-in-future")]
    [InlineData(6_000, -2, false, null, "reading-before-last")]
    public void A_reading_follows_the_last_one_unless_the_meter_was_replaced(long strokes, int day, bool replaced, string? note, string? code) =>
        Assert.Equal(code, StrokeMeter.MayRead(new MeterReading(Today.AddDays(-1), 5_000), strokes, Today.AddDays(day), Today, replaced, note)?.Code);

    [Fact]
    public void The_first_reading_may_be_anything_and_a_count_without_a_day_holds_too()
    {
        Assert.Null(StrokeMeter.MayRead(null, 0, Today.AddDays(-900), Today, false, null));
        Assert.Equal("The meter showed 5,000 and counts up. Read it again; if it was replaced or set back, say so with a note.",
            StrokeMeter.MayRead(new MeterReading(null, 5_000), 4_000, Today.AddDays(-900), Today, false, null)?.Sentence);
        Assert.Null(StrokeMeter.MayRead(new MeterReading(null, 5_000), 5_000, Today.AddDays(-900), Today, false, null));
    }

    [Fact]
    public void A_note_has_an_end() =>
        Assert.Equal("note-too-long", StrokeMeter.MayRead(null, 1, Today, Today, false, new string('n', StrokeMeter.NoteMaxLength + 1))?.Code);
}

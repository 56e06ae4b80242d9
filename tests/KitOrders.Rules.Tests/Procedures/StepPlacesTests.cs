using KitOrders.Rules.Procedures;
using Xunit;
using static KitOrders.Rules.Procedures.PartOf;

namespace KitOrders.Rules.Tests.Procedures;

public sealed class StepPlacesTests
{
    static readonly PartOf[] parts = [Preliminary, Preliminary, Main, Main, CloseUp];

    [Theory]
    [InlineData(1, 0, Preliminary)]
    [InlineData(3, 2, Main)]
    [InlineData(2, 2, Preliminary)]
    [InlineData(4, 4, Main)]
    public void Up_goes_past_one_neighbour_or_into_the_part_above(int at, int to, PartOf part) => Assert.Equal(new StepPlace(to, part), StepPlaces.Up(parts, at));

    [Theory]
    [InlineData(0, 1, Preliminary)]
    [InlineData(1, 1, Main)]
    [InlineData(3, 3, CloseUp)]
    public void Down_goes_past_one_neighbour_or_into_the_part_below(int at, int to, PartOf part) => Assert.Equal(new StepPlace(to, part), StepPlaces.Down(parts, at));

    [Fact]
    public void At_either_end_there_is_nowhere_further_to_go()
    {
        Assert.Null(StepPlaces.Up(parts, 0));
        Assert.Null(StepPlaces.Down(parts, 4));
    }

    [Fact]
    public void An_empty_part_is_reached_and_left_again_by_keys()
    {
        PartOf[] noMain = [Preliminary, CloseUp];
        Assert.Equal(new StepPlace(1, Main), StepPlaces.Up(noMain, 1));
        Assert.Equal(new StepPlace(0, Main), StepPlaces.Down(noMain, 0));
        Assert.Equal(new StepPlace(0, CloseUp), StepPlaces.Down([Main, CloseUp], 0));
    }

    [Theory]
    [InlineData(0, Preliminary, 1)]
    [InlineData(0, Main, 3)]
    [InlineData(4, Main, 4)]
    [InlineData(2, CloseUp, 4)]
    [InlineData(4, Preliminary, 2)]
    public void Dropped_on_the_end_of_a_part_it_is_that_parts_last(int at, PartOf part, int to) => Assert.Equal(new StepPlace(to, part), StepPlaces.Last(parts, at, part));

    [Theory]
    [InlineData(0, Preliminary, 0)]
    [InlineData(0, Main, 1)]
    [InlineData(4, Main, 2)]
    [InlineData(2, CloseUp, 3)]
    [InlineData(4, Preliminary, 0)]
    public void Dropped_on_the_heading_of_a_part_it_is_that_parts_first(int at, PartOf part, int to) => Assert.Equal(new StepPlace(to, part), StepPlaces.First(parts, at, part));

    [Fact]
    public void Dropped_on_a_step_it_takes_that_steps_place_and_part() => Assert.Equal(new StepPlace(2, Main), StepPlaces.Onto(parts, 2));

    [Fact]
    public void However_steps_are_moved_the_list_runs_preliminary_main_close_up()
    {
        var random = new Random(7);
        var list = parts.ToList();
        for (var n = 0; n < 2_000; n++)
        {
            var at = random.Next(list.Count);
            var to = random.Next(5) switch
            {
                0 => StepPlaces.Up(list, at),
                1 => StepPlaces.Down(list, at),
                2 => StepPlaces.Onto(list, random.Next(list.Count)),
                3 => StepPlaces.First(list, at, (PartOf)random.Next(3)),
                _ => StepPlaces.Last(list, at, (PartOf)random.Next(3)),
            };
            if (to is not { } place)
                continue;
            list.RemoveAt(at);
            list.Insert(place.At, place.PartOf);
            Assert.Equal(list.Order(), list);
        }
    }
}

using KitOrders.Rules.Parts;
using Xunit;

namespace KitOrders.Rules.Tests.Parts;

public class StandInsTests
{
    static readonly PartId A = new(1), B = new(2), C = new(3), D = new(4);

    static PartAlternate Approved(PartId part, PartId alternate, int preference, bool bothWays = false) =>
        new() { PartId = part, AlternateId = alternate, Preference = preference, BothWays = bothWays };

    static string Offered(PartId part, PartAlternate[] approved, params (PartId Part, PartId By)[] superseded) =>
        string.Join(" ", StandIns.Of(part, approved, superseded.ToDictionary(s => s.Part, s => s.By)).Select(s => $"{(char)('@' + s.Part.Value)}{s.Preference}"));

    [Fact]
    public void Alternates_are_offered_in_the_order_of_preference() =>
        Assert.Equal("D1 B2 C9", Offered(A, [Approved(A, C, 9), Approved(A, D, 1), Approved(A, B, 2)]));

    [Fact]
    public void One_way_is_not_the_other_way_unless_it_was_approved_both_ways()
    {
        Assert.Equal("", Offered(B, [Approved(A, B, 1)]));
        Assert.Equal("A1", Offered(B, [Approved(A, B, 1, bothWays: true)]));
        Assert.Equal("B1", Offered(A, [Approved(A, B, 1), Approved(B, A, 3)]));
    }

    [Fact]
    public void An_approval_of_its_own_counts_before_the_one_that_comes_back() =>
        Assert.Equal("B4", Offered(A, [Approved(B, A, 4, bothWays: true), Approved(A, B, 4)]));

    [Fact]
    public void What_supersedes_the_part_comes_first_and_what_supersedes_that_next() =>
        Assert.Equal("B0 C0 D1", Offered(A, [Approved(A, D, 1), Approved(A, C, 2)], (A, B), (B, C)));

    [Fact]
    public void A_chain_that_closes_ends_and_names_no_part_twice() =>
        Assert.Equal("B0 C0", Offered(A, [], (A, B), (B, C), (C, A)));

    [Theory]
    [InlineData("A", "A=A", "A → A")]
    [InlineData("A", "A=B B=A", "A → B → A")]
    [InlineData("C", "A=B B=C C=A", "C → A → B → C")]
    public void A_part_that_would_supersede_itself_is_refused_with_the_path(string part, string superseded, string path)
    {
        var refusal = StandIns.RefuseCircle(part, Read(superseded));
        Assert.Equal("supersedes-itself", refusal?.Code);
        Assert.Contains($"would supersede itself: {path}.", refusal!.Sentence, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("A", "A=B B=C C=D")]
    [InlineData("A", "B=C")]
    [InlineData("D", "A=B B=A D=A")]
    public void A_chain_that_comes_to_an_end_or_closes_without_the_part_is_not_the_parts_own_circle(string part, string superseded) =>
        Assert.Null(StandIns.RefuseCircle(part, Read(superseded)));

    static Dictionary<string, string> Read(string superseded) => superseded.Split(' ').Select(p => p.Split('=')).ToDictionary(p => p[0], p => p[1]);
}

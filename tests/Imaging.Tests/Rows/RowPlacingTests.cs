using System.Collections.Immutable;
using Pairbench.Imaging.Rows;

namespace Pairbench.Imaging.Tests.Rows;

public sealed class RowPlacingTests
{
    /// <summary>Twelve marks 3 mm apart, each with its middle 0.1 mm further on; the first lies 0.9 mm too far along and its middle, as plain as the others, where the pitch has it.</summary>
    [Fact]
    public void A_mark_out_of_step_moves_to_a_middle_from_which_the_steps_are_steady()
    {
        var by = RowPlacing.Of(Row(0.9), Middles());
        Assert.Equal(-0.8, by[0], 1e-9);
        Assert.All(by.Skip(1), d => Assert.Equal(0.1, d, 1e-9));
    }

    /// <summary>A middle elsewhere that would upset steady steps is that of something else, unless it is very plain.</summary>
    [Theory]
    [InlineData(1.2, 0.1)]
    [InlineData(2.5, -0.8)]
    public void A_mark_in_step_stays_unless_its_middle_is_very_plain(double logOdds, double moved)
    {
        var by = RowPlacing.Of(Row(0), [new SeenRow.Peak(-0.8, 0, logOdds), .. Middles().Skip(1)]);
        Assert.Equal(moved, by[0], 1e-9);
    }

    private static FoundRow Row(double firstBy) => new(3, [.. Enumerable.Range(0, 12).Select(i => new RowMark((3 * i) + (i == 0 ? firstBy : 0), 0, default, default, Math.Min(i, 1), 1))], 0.1, 0.1, 0.3, 0.05);

    private static ImmutableArray<SeenRow.Peak> Middles() => [.. Enumerable.Range(0, 12).Select(i => new SeenRow.Peak((3 * i) + 0.1, 0, 1.5))];
}

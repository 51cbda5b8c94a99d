using Pairbench.Footwear.PairMatch;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.PairMatch;

public sealed class TurnTests
{
    private static readonly BenchLengths Lengths = new(DataFolder.Catalogue.Read<LandmarkCatalogue>(LandmarkCatalogue.File));

    private static readonly (string Id, string From, string To, string Along)[] Deep = [("toe-cap-side", "toe-tip", "toe-cap-edge", "x"), ("vamp", "toe-tip", "throat", "straight"), ("back-height", "back-foot", "back-top", "y")];

    [Fact]
    public void A_solved_turn_makes_differences_of_shoes_that_truly_differ_more_right_and_their_intervals_hold()
    {
        var stated = Enumerable.Range(3000, 40).SelectMany(seed => Lengths.Differences(new BenchScene(seed, 1), Deep, 1)).ToList();
        var solved = Enumerable.Range(3000, 40).SelectMany(seed => Lengths.Differences(new BenchScene(seed, 1), Deep, 1, solveTurn: true)).ToList();

        Assert.True(Rms(solved) < 0.85 * Rms(stated), $"{Rms(solved):0.000} mm solved, {Rms(stated):0.000} mm stated");
        Assert.True(solved.Average(d => d.Difference.StandardUncertainty) < 0.85 * stated.Average(d => d.Difference.StandardUncertainty));
        Assert.InRange(solved.Average(d => d.Difference.CoverageInterval().Contains(d.Truth) ? 1.0 : 0), 0.9, 0.99);
    }

    [Fact]
    public void The_turn_that_was_made_is_found_and_lies_in_its_interval()
    {
        // Turned by 3 degrees (standard deviation): far more than what differs between the shoes looks like.
        var held = 0;
        double squares = 0;
        for (var seed = 0; seed < 24; seed++)
        {
            var (left, right, apart) = Lengths.Turned(new BenchScene(seed, 3), 3);
            var turn = TurnFit.Of(left, right, 3)!;
            held += turn.Apart.CoverageInterval().Contains(apart) ? 1 : 0;
            squares += Math.Pow(turn.Apart.Value - apart, 2);
            Assert.True(turn.Apart.StandardUncertainty < 0.5 * 3 * Math.Sqrt(2));
        }

        Assert.InRange(held, 20, 24);
        Assert.InRange(Math.Sqrt(squares / 24), 0.1, 0.5 * 3 * Math.Sqrt(2));
    }

    [Fact]
    public void Shoes_turned_by_more_than_is_stated_are_told_and_solved_where_asked()
    {
        var scene = new BenchScene(2, 8, 0);
        var (left, right) = (scene.Make("left.jpg", mirrored: false).Evidence, scene.Make("right.jpg", mirrored: true).Evidence);

        var stated = Run(left, right, "stated");
        var solved = Run(left, right, "solved");

        Assert.Contains(stated.Cautions, c => c.Contains("as if one shoe were turned", StringComparison.Ordinal));
        Assert.DoesNotContain(solved.Cautions, c => c.Contains("turned", StringComparison.Ordinal));
        Assert.Contains(solved.Assumptions, c => c.Contains("solved from the landmarks", StringComparison.Ordinal));
        Assert.Contains(solved.Tables, t => t.Id == "turn");
        var cap = solved.Figures.Single(f => f.Id == "toe-cap-side.difference").Measured;
        Assert.NotEqual(stated.Figures.Single(f => f.Id == "toe-cap-side.difference").Measured.Value, cap.Value);
        Assert.Contains(cap.Budget, c => c.Cause.StartsWith("unlike:left.jpg#", StringComparison.Ordinal));
    }

    [Fact]
    public void Shoes_that_stand_as_stated_are_not_doubted()
    {
        var doubted = Enumerable.Range(0, 24).Select(seed => Lengths.Turned(new BenchScene(seed, 1), 1)).Count(s => TurnFit.Of(s.Left, s.Right, 1) is { } turn && Math.Abs(turn.Apart.Value) > 2.5 * turn.Spread);
        Assert.InRange(doubted, 0, 3);
    }

    [Fact]
    public void The_turns_of_two_shoes_in_one_picture_are_solved_as_those_of_two()
    {
        var scene = new BenchScene(2, 8, 0);
        var outcome = Run(scene.Make("both.jpg", mirrored: false).Evidence, scene.Make("both.jpg", mirrored: true).Evidence, "solved");

        Assert.Contains(outcome.Tables, t => t.Id == "turn");
        Assert.DoesNotContain(outcome.Cautions, c => c.Contains("turned", StringComparison.Ordinal));
        Assert.Contains(outcome.Figures.Single(f => f.Id == "toe-cap-side.difference").Measured.Budget, c => c.Cause == "turn:both.jpg/right");
    }

    [Fact]
    public void Too_few_landmarks_solve_no_turn_and_it_is_said()
    {
        const string shoe = """{ "photo": { "file": "FILE", "scale": { "kind": "bar", "ends": [[100, 100], [1100, 100]], "lengthMm": 100, "focalLengthPx": 6000 } }, "landmarks": { "toe-tip": [[500, 500]], "heel-back": [[3000, 500]], "throat": [[1500, 300]] } }""";
        var outcome = Run(shoe.Replace("FILE", "a.jpg", StringComparison.Ordinal), shoe.Replace("FILE", "b.jpg", StringComparison.Ordinal), "solved", """[{ "id": "vamp", "from": "toe-tip", "to": "throat" }]""");

        Assert.Contains(outcome.Cautions, c => c.Contains("it takes 8 landmarks", StringComparison.Ordinal) && c.Contains("3 are shared", StringComparison.Ordinal));
        Assert.DoesNotContain(outcome.Tables, t => t.Id == "turn");
    }

    private static double Rms(List<(Measured Difference, double Truth)> of) => Math.Sqrt(of.Average(d => Math.Pow(d.Difference.Value - d.Truth, 2)));

    private static Outcome Run(string left, string right, string turn, string features = """[{ "id": "toe-cap-side", "from": "toe-tip", "to": "toe-cap-edge", "along": "x" }]""") =>
        ReviewRun.ExamineAlone(Examination.Named("pair-match")!, DataFolder.Json($$"""{ "left": {{left}}, "right": {{right}}, "features": {{features}}, "turn": "{{turn}}" }"""), new Surroundings(new BlankPhotos(), DataFolder.Catalogue, Subject.Unknown));
}

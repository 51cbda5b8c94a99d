using System.Collections.Immutable;
using System.Globalization;

namespace Pairbench.Footwear.PairMatch;

/// <summary>What a pair match says of the turn of the shoes on the bench.</summary>
internal static class TurnWords
{
    /// <summary>Beyond so many of what the stated turn makes one expect, the statement is doubted.</summary>
    private const double Doubtful = 2.5;

    public static IEnumerable<string> Assumptions(PairMatchEvidence evidence, TurnFit? turn)
    {
        if (evidence.Shoes.Where(s => !s.Shoe.IsScan).Select(s => s.Side).ToImmutableArray() is not { IsEmpty: false } sides)
        {
            yield break;
        }

        var stated = string.Create(CultureInfo.InvariantCulture, $"{(sides.Length == 2 ? "Each" : "The " + sides[0])} shoe may be turned on the bench by {evidence.TurnSigmaDeg:0.##} {(evidence.TurnSigmaDeg == 1 ? "degree" : "degrees")} (standard uncertainty)");
        yield return turn is not null && evidence.Turn == TurnOnBench.Solved
            ? $"{stated}; how far was solved from the landmarks: real differences between the shoes are taken not to run with the depth of the landmarks."
            : $"{stated}: that moves lengths between landmarks of different depth.";
    }

    /// <param name="shared">How many landmarks both shoes have.</param>
    public static IEnumerable<string> Cautions(PairMatchEvidence evidence, TurnFit? turn, int shared)
    {
        if (evidence.Turn == TurnOnBench.Solved && evidence.Shoes.Any(s => s.Shoe.IsScan))
        {
            yield return "The turn of the shoes was not solved: a shoe on the glass of a scanner is not turned towards a camera.";
        }
        else if (evidence.Left is not null && evidence.Turn == TurnOnBench.Solved && turn is null && evidence.TurnSigmaDeg > 0)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"The turn of the shoes was not solved and only what is stated counts: it takes {TurnFit.FewestLandmarks} landmarks on both shoes, apart and at their depths; {shared} are shared.");
        }

        if (turn is { } found && evidence.Turn == TurnOnBench.Stated && Math.Abs(found.Apart.Value) > Doubtful * found.Spread)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"The landmarks lie as if one shoe were turned by about {Math.Abs(found.Apart.Value):0.0} degrees against the other (standard uncertainty {found.Apart.StandardUncertainty:0.0}), more than is stated. Put both against a stop and photograph them again, or let the turn be solved.");
        }
    }

    public static IEnumerable<Table> Tables(TurnFit? turn)
    {
        if (turn is not null)
        {
            yield return new Table("turn", "How far the shoes were turned on the bench, as the landmarks have it", [new("what", "What"), new("value", "Value")], [["Left less right", turn.Apart]]);
        }
    }
}

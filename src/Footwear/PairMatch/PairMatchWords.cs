using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Footwear.PairMatch;

/// <summary>What a pair match had to assume of its photographs, what must be heeded, and what it rests on.</summary>
internal static class PairMatchWords
{
    public static IEnumerable<string> Assumptions(PairMatchEvidence evidence, (PlacedShoe Left, PlacedShoe Right)? shoes, LandmarkDepths depths, MirrorFit? fit)
    {
        if (shoes is { } pair)
        {
            foreach (var words in pair.Left.Assumptions.Concat(pair.Right.Assumptions).Distinct(StringComparer.Ordinal))
            {
                yield return words;
            }

            foreach (var words in depths.Assumptions())
            {
                yield return words;
            }
        }

        if (evidence is { Left.Photo.Scale: PrintedScale { Sheet: null }, Right.Photo.Scale: PrintedScale { Sheet: null } } && !SharesScale(evidence))
        {
            yield return $"The print in {evidence.Left.Photo.File} and that in {evidence.Right.Photo.File} are not named and taken to be two: what paper and printer are off by does not cancel in a difference. Where it is one, give it the same name in both.";
        }

        if (fit is not null && IsPhotographed(evidence))
        {
            yield return "The overlay shows both shoes in the plane where most landmarks lie; what lies nearer or further is shifted in it.";
        }
    }

    public static IEnumerable<string> Cautions(PairMatchEvidence evidence, ImmutableArray<PairFeature> features, ImmutableArray<(LandmarkPlace Left, LandmarkPlace Right)> matched, MirrorFit? fit)
    {
        if (evidence.Left is not null && features.Length > 0 && evidence.Shoes.SelectMany(s => s.Shoe.Landmarks.Values).All(c => c.Length == 1))
        {
            yield return "No landmark was clicked more than once: the spread of a click is the stated one, not seen. Three clicks each are better.";
        }

        if (evidence.Left is not null && fit is null)
        {
            yield return matched.Length < MirrorFit.FewestLandmarks
                ? string.Create(CultureInfo.InvariantCulture, $"The two shoes share {matched.Length} {(matched.Length == 1 ? "landmark" : "landmarks")}: at least {MirrorFit.FewestLandmarks} are needed to lay one on the other.")
                : "The shared landmarks of a shoe all lie at one place, as far as clicks can tell: nothing says how one shoe is to be laid on the other. Click places that lie apart.";
        }

        if (fit?.Residuals.Where(r => r.Weight < 0.4).Select(r => r.Name).ToImmutableArray() is { IsEmpty: false } odd)
        {
            yield return $"These landmarks do not fit the rest and count less: {string.Join(", ", odd)}. Look whether they were clicked on the same place of both shoes.";
        }
    }

    public static IEnumerable<string> NotSnapped((PlacedShoe Left, PlacedShoe Right)? shoes)
    {
        foreach (var (side, shoe) in shoes is { } pair ? new[] { ("left", pair.Left), ("right", pair.Right) } : [])
        {
            if (!shoe.NotSnapped.IsEmpty)
            {
                yield return $"No single edge stands beside these landmarks of the {side} shoe, so that they stay where they were clicked: {string.Join(", ", shoe.NotSnapped)}.";
            }
        }
    }

    public static IEnumerable<Basis> Bases(PairMatchEvidence evidence, ImmutableArray<CalliperReadings> calliper)
    {
        ImmutableArray<string> shared =
        [
            .. evidence.Left is null ? [] : ImmutableArray.Create(
                !IsPhotographed(evidence) ? "what the scale of one scan is off by is the same all over it"
                : SharesScale(evidence) ? "the scale and the depth that both shoes share nearly cancel in a difference"
                : "the depth that both shoes share nearly cancels in a difference; each photograph has a scale of its own, which does not"),
            .. calliper.IsEmpty ? [] : ImmutableArray.Create("the error of one instrument falls out of a difference"),
        ];
        yield return new Basis(BasisKind.Standard, $"JCGM 100, 5.2 (correlated inputs): {string.Join("; ", shared)}", "2008");
        if (IsPhotographed(evidence))
        {
            yield return new Basis(BasisKind.Practice, "usual depths of landmarks and turn of a shoe on the bench: common practice, no source");
        }

        if (!calliper.IsEmpty)
        {
            yield return new Basis(BasisKind.Practice, "what a calliper and a single reading by hand may be off by: common practice, no source");
        }
    }

    /// <summary>Whether both shoes lie in one picture, or beside a print that is said to be one.</summary>
    private static bool SharesScale(PairMatchEvidence evidence) =>
        evidence is { Left.Photo: var left, Right.Photo: var right } && (left.File == right.File || (left.Scale is PrintedScale { Sheet: { } one } && right.Scale is PrintedScale { Sheet: { } other } && one == other));

    /// <summary>Whether a camera saw any shoe, so that depth and turn have a part.</summary>
    private static bool IsPhotographed(PairMatchEvidence evidence) => evidence.Shoes.Any(s => !s.Shoe.IsScan);
}

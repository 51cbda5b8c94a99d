using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear.Instruments;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Colour;

/// <summary>What a camera can and cannot tell, said beside its figures.</summary>
internal static class ColourCautions
{
    private const double LightMatters = 0.3;

    /// <param name="fromLight">Standard uncertainty that the light puts on a coordinate of a difference, the largest of all pairs.</param>
    public static IEnumerable<string> Of(ColourEvidence evidence, ImmutableArray<PatchReading> readings, ImmutableArray<PairDifference> pairs, ImmutableArray<Figure> figures, double fromLight)
    {
        yield return "A camera compares two patches of one picture. It does not tell a colour as such, nor compare two pictures, without a chart of known colours in each.";
        yield return "Two materials may match in this light and not in another (metamerism); a picture shows one light. Look at the pair in D65 and in a second light.";
        if (evidence.Neutral is null)
        {
            yield return "There is no neutral card in the picture: put one beside the patches, flat and in the same light.";
        }

        if (fromLight > LightMatters)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"How evenly the light falls is known poorly: it alone makes {fromLight:0.0} in a coordinate. Mark a larger neutral, or one beside each patch.");
        }

        foreach (var reading in readings.Where(r => r.Clipped > 0.01))
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{reading.Patch.Id}: {100 * reading.Clipped:0} % of its pixels are at an end of the range (0 or 255); what lies beyond is lost, and the difference with it.");
        }

        foreach (var pair in pairs.Where(p => p.First.Patch.Component is { } a && p.Second.Patch.Component is { } b && a != b))
        {
            yield return $"{pair.Name}: the patches are of different components; gloss, pile and texture change what a camera sees of one colour.";
        }

        foreach (var words in ByEye(evidence, figures))
        {
            yield return words;
        }
    }

    /// <summary>A grade is one person's, and the camera is a second opinion.</summary>
    private static IEnumerable<string> ByEye(ColourEvidence evidence, ImmutableArray<Figure> figures)
    {
        if (evidence.VisualGrades.IsEmpty)
        {
            yield break;
        }

        yield return "A grade given by eye goes before the camera's, which stands beside it.";
        foreach (var (pair, grades) in evidence.LookedAt.Select(p => ($"{p[0]}..{p[1]}", evidence.GradesOf(p[0], p[1]))).Where(p => !p.Item2.IsEmpty))
        {
            if (grades.Any(g => string.IsNullOrWhiteSpace(g.By)))
            {
                yield return $"{pair}: who graded by eye is not named: without it a factory contests a grade.";
            }

            if (GradeByEye.Graders(grades.Select(g => g.By)) == 1)
            {
                yield return $"{pair}: graded by one person only{(grades.Length > 1 ? ", as far as names tell" : "")}: a second grader shows how far eyes differ.";
            }

            if (figures.FirstOrDefault(f => f.Id == $"{pair}.grey-scale")?.Measured is { } eye && figures.FirstOrDefault(f => f.Id == $"{pair}.grey-scale-camera")?.Measured is { } camera && AreApart(eye.CoverageInterval(), camera.CoverageInterval()))
            {
                var interval = camera.CoverageInterval();
                yield return string.Create(CultureInfo.InvariantCulture, $"{pair}: the eye says {eye.Value:0.#}, the camera {camera.Value:0.0} (from {interval.Lower:0.0} to {interval.Upper:0.0}): they do not agree. Have it graded by a second person in the same light before it is ruled on.");
            }
        }
    }

    private static bool AreApart(Interval eye, Interval camera) => eye.Lower > camera.Upper || camera.Lower > eye.Upper;
}

using System.Collections.Immutable;
using System.Globalization;

namespace Pairbench.Footwear.Colour;

/// <summary>What a camera can and cannot tell, said beside its figures.</summary>
internal static class ColourCautions
{
    private const double LightMatters = 0.3;

    /// <param name="fromLight">Standard uncertainty that the light puts on a coordinate of a difference, the largest of all pairs.</param>
    public static IEnumerable<string> Of(ColourEvidence evidence, ImmutableArray<PatchReading> readings, ImmutableArray<PairDifference> pairs, double fromLight)
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

        if (!evidence.VisualGrades.IsDefaultOrEmpty)
        {
            yield return "A grade given by eye goes before the camera's, which stands beside it.";
        }
    }
}

using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Imaging;
using Pairbench.Imaging.Colour;

namespace Pairbench.Footwear.Colour;

/// <summary>Whether the marks of a colour examination can be used.</summary>
internal static class ColourChecks
{
    private const double MostChromaOfNeutral = 12;
    private const double MostClippedOfNeutral = 0.2;

    /// <exception cref="FaultsException">Any mark cannot be used; all of them are named.</exception>
    public static void Marks(ColourEvidence evidence, PixelSize size)
    {
        var faults = Of(evidence, size).ToImmutableArray();
        if (faults.Length > 0)
        {
            throw new FaultsException(faults);
        }
    }

    /// <exception cref="FaultsException">Too much of a neutral is clipped.</exception>
    public static void Unclipped(PatchBlocks blocks, string where)
    {
        if (blocks.Clipped > MostClippedOfNeutral)
        {
            throw new FaultsException(new Fault(
                $"{where}.rect",
                string.Create(CultureInfo.InvariantCulture, $"{100 * blocks.Clipped:0} % of its pixels are at an end of the range (0 or 255)"),
                "photograph it with less light, or take a grey card instead of a white one"));
        }
    }

    /// <exception cref="FaultsException">A patch has no light at all, or is too small to say how it varies: it would seem surer than a large one.</exception>
    public static void Seen(ImmutableArray<PatchReading> readings)
    {
        var black = readings.Select((r, i) => (r, i)).Where(r => r.r.Clipped >= 0.98).Select(r => new Fault(
            $"patches[{r.i}].rect",
            "nearly all of its pixels are at an end of the range (0 or 255)",
            "photograph it with other exposure, so that it is neither black nor white in the picture"));
        var small = readings.Select((r, i) => (r.Patch.Rect, r.Varies, i)).Where(r => !r.Varies).Select(r => new Fault(
            $"patches[{r.i}].rect",
            string.Create(CultureInfo.InvariantCulture, $"is {r.Rect.W:0.#} x {r.Rect.H:0.#} pixels, too few to tell how they vary"),
            $"draw it over at least {PatchBlocks.FewestPixels} pixels one way, better over 50 both ways, or add repeats of the same stuff"));
        if (black.Concat(small).ToImmutableArray() is { IsEmpty: false } faults)
        {
            throw new FaultsException(faults);
        }
    }

    private static IEnumerable<Fault> Of(ColourEvidence evidence, PixelSize size)
    {
        var patches = evidence.Patches;
        for (var i = 0; i < patches.Length; i++)
        {
            if (patches.Take(i).Any(p => p.Id == patches[i].Id))
            {
                yield return new Fault($"patches[{i}].id", $"'{patches[i].Id}' stands twice", "give each patch an id of its own; further places of the same stuff go under repeats");
            }

            foreach (var fault in Rect(patches[i].Rect, $"patches[{i}].rect", size))
            {
                yield return fault;
            }

            foreach (var fault in patches[i].Repeats.SelectMany((r, k) => Rect(r, $"patches[{i}].repeats[{k}]", size)))
            {
                yield return fault;
            }
        }

        foreach (var (neutral, where) in evidence.AllNeutrals)
        {
            foreach (var fault in Rect(neutral.Rect, where + ".rect", size))
            {
                yield return fault;
            }

            if (neutral.Lab is { } lab && !(lab.L is > 5 and <= 105 && lab.Chroma <= MostChromaOfNeutral))
            {
                yield return new Fault(where + ".lab", string.Create(CultureInfo.InvariantCulture, $"[{lab.L:0.##}, {lab.A:0.##}, {lab.B:0.##}] is no neutral"), "give L from 5 to 105 and a, b near zero, as measured on the card");
            }
        }

        foreach (var fault in Named(evidence))
        {
            yield return fault;
        }
    }

    private static IEnumerable<Fault> Named(ColourEvidence evidence)
    {
        var ids = evidence.Patches.Select(p => p.Id).ToHashSet(StringComparer.Ordinal);
        var known = string.Join(", ", ids.Order(StringComparer.Ordinal));
        var pairs = evidence.Pairs;
        var grades = evidence.VisualGrades;
        for (var i = 0; i < pairs.Length; i++)
        {
            foreach (var fault in Pair(pairs[i], $"pairs[{i}]", ids, known))
            {
                yield return fault;
            }

            if (pairs.Take(i).Any(p => p.SequenceEqual(pairs[i])))
            {
                yield return new Fault($"pairs[{i}]", "stands twice", "name each pair once");
            }
        }

        for (var i = 0; i < grades.Length; i++)
        {
            Fault[] unnamed = [.. Pair(grades[i].Pair, $"visualGrades[{i}].pair", ids, known)];
            foreach (var fault in unnamed)
            {
                yield return fault;
            }

            if (unnamed.Length == 0 && !evidence.LookedAt.Any(p => p.Length == 2 && grades[i].IsOf(p[0], p[1])))
            {
                yield return new Fault(
                    $"visualGrades[{i}].pair",
                    "is none of the pairs",
                    pairs.IsEmpty ? $"name it under pairs too; without pairs each patch is held against {evidence.Patches[0].Id}" : "name one that stands under pairs");
            }

            if (grades[i].Grade * 2 % 1 != 0)
            {
                yield return new Fault($"visualGrades[{i}].grade", string.Create(CultureInfo.InvariantCulture, $"{grades[i].Grade:0.###} is no step of the grey scale"), "give a grade from 1 to 5 in steps of 0.5; 4-5 is 4.5");
            }
        }
    }

    private static IEnumerable<Fault> Pair(ImmutableArray<string> pair, string where, HashSet<string> ids, string known)
    {
        if (pair.Length != 2 || pair[0] == pair[1])
        {
            yield return new Fault(where, "does not name two different patches", $"name two of {known}");
            yield break;
        }

        foreach (var id in pair.Where(id => !ids.Contains(id)))
        {
            yield return new Fault(where, $"there is no patch '{id}'", $"name two of {known}");
        }
    }

    private static IEnumerable<Fault> Rect(PixelRect rect, string where, PixelSize size)
    {
        if (!(rect.W >= 1 && rect.H >= 1))
        {
            yield return new Fault(where, "is less than a pixel wide or high", "give [x, y, w, h] with w and h of at least 1, better 50 or more");
        }
        else if (!(rect.X >= 0 && rect.Y >= 0 && rect.X + rect.W <= size.Width && rect.Y + rect.H <= size.Height))
        {
            yield return new Fault(where, string.Create(CultureInfo.InvariantCulture, $"[{rect.X:0.#}, {rect.Y:0.#}, {rect.W:0.#}, {rect.H:0.#}] reaches out of the picture of {size.Width} x {size.Height}"), "give pixels of the picture after its EXIF orientation is applied");
        }
    }
}

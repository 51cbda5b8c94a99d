using System.Collections.Immutable;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Datum;

/// <summary>Finds the datum sheet or the corner cards in a photograph.</summary>
/// <remarks>
/// Codes are read in the shrunk picture first and at finer sizes where too few are. What they say names the layout; from their finder patterns follows a first view
/// (pose, with the focal length as it is known beforehand). Then printed edges are looked for where the view says they should be, nearest first:
/// an edge is taken only while the view is sure enough not to mistake its neighbour for it. Pose, lens, focal length, stretch of the paper and places of cards are fitted together.
/// </remarks>
public static class DatumFinder
{
    /// <exception cref="ScaleException">There is no such print in the picture, or a field of the scale is wrong.</exception>
    /// <exception cref="PhotoException">The picture cannot be read.</exception>
    public static DatumFound Find(PrintedScale scale, IPhotograph photo)
    {
        ArgumentNullException.ThrowIfNull(scale);
        ArgumentNullException.ThrowIfNull(photo);
        var prior = KnownBefore.Of(scale, photo.Size, photo.Camera);
        return Find(photo.Decode(), scale is CardsScale, prior)
            ?? throw (scale is CardsScale
                ? new ScaleException("kind", "none of our corner cards was found in the picture", "lay the cards flat round the shoe with their codes in sight, in focus and without glare, or give another scale")
                : new ScaleException("kind", "no datum sheet of ours was found in the picture", "show at least two corner codes of the sheet in focus and without glare, or give another scale"));
    }

    internal static DatumFound? Find(RgbImage picture, bool cards, ViewPrior prior)
    {
        var sizes = new PictureSizes(picture);
        DatumFound? best = null;
        foreach (var codes in Readings(sizes, cards))
        {
            foreach (var print in codes.GroupBy(c => c.Text.Print))
            {
                var found = cards ? CardSearch.Of(sizes, [.. print], prior) : SheetSearch.Of(sizes, LayoutOf(print.Key), [.. print], prior);
                if (found is not null && (best is null || found.Edges.Length > best.Edges.Length))
                {
                    best = found;
                }
            }

            if (best is not null)
            {
                return best;
            }
        }

        return null;
    }

    /// <summary>Codes of the kind that is looked for, each time more of them.</summary>
    private static IEnumerable<ImmutableArray<ReadCode>> Readings(PictureSizes sizes, bool cards)
    {
        var all = new List<ReadCode>();
        var levels = sizes.ToRead;
        for (var i = 0; i < levels.Length; i++)
        {
            var before = all.Count;
            foreach (var code in CodeReader.In(levels[i]))
            {
                if (code.Text.Print == "CD" == cards && !all.Exists(c => c.Text == code.Text && c.Finders[0].DistanceTo(code.Finders[0]) < 4 * c.ModulePx))
                {
                    all.Add(code);
                }
            }

            // A single code or card does for a start, but others make it surer: look closer before it is tried.
            var enough = cards ? 4 : 2;
            if (all.Count >= enough ? all.Count > before : all.Count > 0 && i == levels.Length - 1)
            {
                yield return [.. all];
            }
        }
    }

    private static DatumLayout LayoutOf(string print) => DatumLayout.Sheet(print switch { "A3" => DatumPaper.A3, "LT" => DatumPaper.Letter, _ => DatumPaper.A4 });
}

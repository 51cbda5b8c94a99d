using System.Collections.Immutable;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Rows;

/// <summary>
/// A place of a row, judged by itself once the row is known. A network that was taught both how stitches look and how places look from which one is missing, needle holes
/// and all, tells how much likelier the one is than the other; so does the likeness to the row's own stitches.
/// </summary>
/// <param name="Place">As a mark of the row, whether one was found there or not.</param>
/// <param name="IsMark">Whether a mark was found there.</param>
/// <param name="Seen">How much likelier the network thinks a stitch than a skipped one (natural logarithm).</param>
/// <param name="Alike">How much likelier likeness to the other stitches makes one than none (natural logarithm).</param>
internal readonly record struct JudgedPlace(RowMark Place, bool IsMark, double Seen, double Alike)
{
    /// <summary>How much what the network sees counts beside likeness: near a fit to places of drawn rows (benchmarks/Seams).</summary>
    private const double OfSeen = 0.9;

    /// <summary>How much likelier than not it must be that a place was taken for what it is not.</summary>
    private const double Sure = 1;

    /// <summary>Natural logarithm of the odds that a stitch is there.</summary>
    public double Stitched => (OfSeen * Seen) + Alike;

    /// <summary>Whether it is told as a mark: what was found stays, unless the other is surely likelier.</summary>
    public bool IsTold => IsMark ? Stitched > -Sure : Stitched > Sure;

    /// <summary>Every place of a row, from its first mark to its last.</summary>
    public static ImmutableArray<JudgedPlace> Of(FoundRow row, GuideCurve guide, IPlaneMap map, RowSight sight, RowTrial trial)
    {
        var places = ImmutableArray.CreateBuilder<(RowMark Place, bool IsMark)>();
        for (var i = 0; i < row.Marks.Length; i++)
        {
            var mark = row.Marks[i];
            for (var gap = 1; gap < mark.Before; gap++)
            {
                var (from, f) = (row.Marks[i - 1], gap / (double)mark.Before);
                var (along, across) = (from.Along + (f * (mark.Along - from.Along)), from.Across + (f * (mark.Across - from.Across)));
                var place = guide.At(along, across);
                places.Add((mark with { Along = along, Across = across, Place = place, Pixel = map.ToPicture(place) }, false));
            }

            places.Add((mark, true));
        }

        var alike = trial.ThreadOdds(row, [.. places.Select(p => p.Place)]);
        return [.. places.Select((p, i) => new JudgedPlace(p.Place, p.IsMark, sight.At(p.Place, row.Pitch) - sight.BareAt(p.Place, row.Pitch), alike[i]))];
    }

    /// <summary>The marks of a row with those that are there after all, without those that are not; its first and its last stay.</summary>
    public static ImmutableArray<RowMark> Marks(ImmutableArray<JudgedPlace> places)
    {
        var marks = ImmutableArray.CreateBuilder<RowMark>();
        var before = 0;
        for (var i = 0; i < places.Length; i++)
        {
            before++;
            if (i == 0 || i == places.Length - 1 || places[i].IsTold)
            {
                marks.Add(places[i].Place with { Before = marks.Count == 0 ? 0 : before });
                before = 0;
            }
        }

        return marks.ToImmutable();
    }
}

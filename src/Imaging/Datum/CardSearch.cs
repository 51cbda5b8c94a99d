using System.Collections.Immutable;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Datum;

/// <summary>Loose cards: their places in the plane and the camera are solved together, in the plane of the largest card.</summary>
internal static class CardSearch
{
    public static DatumFound? Of(PictureSizes sizes, ImmutableArray<ReadCode> read, ViewPrior prior)
    {
        ImmutableArray<(DatumTarget Card, ReadCode Read)> cards = [.. read
            .GroupBy(r => r.Text)
            .Where(same => same.Count() == 1)
            .Select(same => (Card: DatumLayout.Cards.Targets.FirstOrDefault(t => t.Codes[0].Text == same.Key), Read: same.First()))
            .Where(c => c.Card is not null)
            .OrderByDescending(c => c.Read.ModulePx)
            .Select(c => (c.Card!, c.Read))];
        if (cards.Length == 0)
        {
            return null;
        }

        ImmutableArray<DatumTarget> targets = [.. cards.Select(c => c.Card)];
        ImmutableArray<(int, PrintedCode, ReadCode)> codes = [.. cards.Select((c, i) => (i, c.Card.Codes[0], c.Read))];
        var growth = new ViewGrowth(sizes, targets, prior);
        DatumFound? best = null;
        foreach (var focal in Focals(prior))
        {
            foreach (var start in ViewStart.OfCode(targets[0].Codes[0], cards[0].Read, focal, prior.About.Centre))
            {
                if (Laid(start, cards) is { } laid && growth.From(laid with { StretchX = prior.About.StretchX, StretchY = prior.About.StretchY }, codes) is var (fitted, sightings))
                {
                    ImmutableArray<SeenCode> seen = [.. DatumLayout.Cards.Targets.Select(t => Seen(t, targets.IndexOf(t), fitted, c => growth.Seen(fitted, targets.IndexOf(t), c)))];
                    var found = new DatumFound(DatumLayout.Cards, targets, fitted, prior, sightings, seen);
                    best = best is null || found.Edges.Length > best.Edges.Length || (found.Edges.Length == best.Edges.Length && found.ScatterPx < best.ScatterPx) ? found : best;
                }
            }

            if (best is not null)
            {
                return best;
            }
        }

        return null;
    }

    /// <summary>Where hardly anything is known of the focal length, a first view may be too far off for its edges to be found: longer and shorter ones are tried as well.</summary>
    private static double[] Focals(ViewPrior prior)
    {
        const double hardlyKnown = 0.1;
        var likeliest = prior.About.FocalPx;
        return prior.Uncertainty[PlaneView.Focal] < hardlyKnown ? [likeliest] : [likeliest, 1.35 * likeliest, 0.75 * likeliest];
    }

    private static SeenCode Seen(DatumTarget card, int target, FittedView fitted, Func<PrintedCode, bool> isThere)
    {
        if (target < 0)
        {
            return new SeenCode(card.Number, false, []);
        }

        var c = card.Codes[0];
        return new SeenCode(card.Number, isThere(c), [.. new[] { (0, 0), (1, 0), (1, 1), (0, 1) }.Select(k => fitted.View.Picture(target, c.At(k.Item1 * PrintedCode.Modules, k.Item2 * PrintedCode.Modules)))]);
    }

    /// <summary>The view with the other cards laid where it sees them; null where it does not see the plane there.</summary>
    private static PlaneView? Laid(PlaneView start, ImmutableArray<(DatumTarget Card, ReadCode Read)> cards)
    {
        try
        {
            var plane = new ViewMap(start, 0);
            return start with { Cards = [.. cards.Skip(1).Select(c => ViewStart.Card(c.Card.Codes[0], c.Read, plane))] };
        }
        catch (ScaleException)
        {
            return null;
        }
    }
}

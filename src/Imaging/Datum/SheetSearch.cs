using System.Collections.Immutable;

namespace Pairbench.Imaging.Datum;

/// <summary>One sheet from codes that name it.</summary>
internal static class SheetSearch
{
    // One corner alone would leave the other end of the sheet to a guess.
    private const int LeastCodes = 2;

    public static DatumFound? Of(PictureSizes sizes, DatumLayout layout, ImmutableArray<ReadCode> read, ViewPrior prior)
    {
        var target = layout.Targets[0];
        ImmutableArray<(int, PrintedCode Printed, ReadCode Read)> codes = [.. read
            .Select(r => (0, Printed: target.Codes.FirstOrDefault(c => c.Text == r.Text), Read: r))
            .Where(c => c.Printed is not null)
            .Select(c => (c.Item1, c.Printed!, c.Read))];
        var growth = new ViewGrowth(sizes, [target], prior);

        // All together; where that fails, two sheets may lie in the picture: from one code alone.
        return Found(Together(codes, prior), codes)
            ?? codes.OrderByDescending(c => c.Read.ModulePx)
                .Select(c => ViewStart.OfCode(c.Printed, c.Read, prior.About.FocalPx, prior.About.Centre)
                    .Select(start => Found(start, [c]))
                    .OfType<DatumFound>()
                    .MaxBy(f => f.Edges.Length))
                .FirstOrDefault(f => f is not null);

        DatumFound? Found(PlaneView? start, ImmutableArray<(int, PrintedCode, ReadCode)> from)
        {
            if (start is null || growth.From(start with { StretchX = prior.About.StretchX, StretchY = prior.About.StretchY }, from) is not var (fitted, sightings))
            {
                return null;
            }

            ImmutableArray<SeenCode> seen = [.. target.Codes.Select(c => new SeenCode(
                c.Text.Number,
                growth.Seen(fitted, 0, c),
                [fitted.View.Picture(0, c.At(0, 0)), fitted.View.Picture(0, c.At(PrintedCode.Modules, 0)), fitted.View.Picture(0, c.At(PrintedCode.Modules, PrintedCode.Modules)), fitted.View.Picture(0, c.At(0, PrintedCode.Modules))]))];
            return seen.Count(c => c.Seen) < LeastCodes ? null : new DatumFound(layout, [target], fitted, prior, sightings, seen);
        }
    }

    private static PlaneView? Together(ImmutableArray<(int, PrintedCode Printed, ReadCode Read)> codes, ViewPrior prior) =>
        codes.Length >= 2 && codes.DistinctBy(c => c.Printed.Text).Count() == codes.Length
            ? ViewStart.OfCodes([.. codes.SelectMany(c => c.Printed.Finders.Zip(c.Read.Finders))], prior.About.FocalPx, prior.About.Centre)
            : null;
}

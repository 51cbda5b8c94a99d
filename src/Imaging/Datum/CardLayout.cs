using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Datum;

/// <summary>
/// Four loose cards, the quarters of one A4: a code within a square frame of 80 mm, and a check bar. Together they frame a shoe that would cover a sheet.
/// </summary>
internal static class CardLayout
{
    private const double FrameLeft = 10, FrameTop = 7, FrameMm = 80, FrameLineMm = 3, ModuleMm = 2;

    private static readonly SizeMm Card = new(148.5, 105);

    public static DatumLayout Make() => new(
        "Corner cards",
        new SizeMm(2 * Card.Width, 2 * Card.Height),
        [.. Enumerable.Range(1, 4).Select(Of)],
        [
            SheetLayout.Stroke(new PlanePoint(Card.Width, 1), new PlanePoint(Card.Width, 4)),
            SheetLayout.Stroke(new PlanePoint(Card.Width, Card.Height - 3), new PlanePoint(Card.Width, Card.Height + 3)),
            SheetLayout.Stroke(new PlanePoint(Card.Width, (2 * Card.Height) - 4), new PlanePoint(Card.Width, (2 * Card.Height) - 1)),
            SheetLayout.Stroke(new PlanePoint(1, Card.Height), new PlanePoint(4, Card.Height)),
            SheetLayout.Stroke(new PlanePoint(Card.Width - 3, Card.Height), new PlanePoint(Card.Width + 3, Card.Height)),
            SheetLayout.Stroke(new PlanePoint((2 * Card.Width) - 4, Card.Height), new PlanePoint((2 * Card.Width) - 1, Card.Height)),
        ]);

    private static DatumTarget Of(int number)
    {
        var middle = new PlanePoint(FrameLeft + (FrameMm / 2), FrameTop + (FrameMm / 2));
        var code = new PrintedCode(new DatumCodeText("CD", number, middle), ModuleMm);
        var (barX, barY) = (24.0, 95.0);
        var (right, bottom) = (FrameLeft + FrameMm, FrameTop + FrameMm);
        return new DatumTarget(
            "CD",
            number,
            Card,
            new PlanePoint((number is 2 or 3 ? 1 : 0) * Card.Width, (number is 3 or 4 ? 1 : 0) * Card.Height),
            [code],
            [
                new(new PlaneRect(FrameLeft, FrameTop, FrameMm, FrameLineMm), 0),
                new(new PlaneRect(FrameLeft, bottom - FrameLineMm, FrameMm, FrameLineMm), 0),
                new(new PlaneRect(FrameLeft, FrameTop + FrameLineMm, FrameLineMm, FrameMm - (2 * FrameLineMm)), 0),
                new(new PlaneRect(right - FrameLineMm, FrameTop + FrameLineMm, FrameLineMm, FrameMm - (2 * FrameLineMm)), 0),
                SheetLayout.Stroke(new PlanePoint(barX, barY), new PlanePoint(barX + DatumLayout.BarMm, barY)),
                SheetLayout.Stroke(new PlanePoint(barX, barY - 3), new PlanePoint(barX, barY + 3)),
                SheetLayout.Stroke(new PlanePoint(barX + DatumLayout.BarMm, barY - 3), new PlanePoint(barX + DatumLayout.BarMm, barY + 3)),
            ],
            [],
            [
                new(new PlanePoint(96, 16), 4, $"Corner card {number} of 4"),
                new(new PlanePoint(96, 22), 2.6, "Edition 1. Print the A4 at actual"),
                new(new PlanePoint(96, 26), 2.6, "size (100 %) and cut it in four."),
                new(new PlanePoint(96, 32), 2.6, "Lay the cards round the shoe,"),
                new(new PlanePoint(96, 36), 2.6, "any way round, flat in the plane"),
                new(new PlanePoint(96, 40), 2.6, "that is to be measured."),
                new(new PlanePoint(96, 46), 2.6, "All of one printing."),
                new(new PlanePoint(96, 80), 2.6, "The bar is 100 mm between the"),
                new(new PlanePoint(96, 84), 2.6, "middles of its end strokes: lay"),
                new(new PlanePoint(96, 88), 2.6, "a steel rule on it."),
            ],
            [.. CodeEdges.Of(code), .. Frame(FrameLeft, FrameTop, right, bottom, outer: true), .. Frame(FrameLeft + FrameLineMm, FrameTop + FrameLineMm, right - FrameLineMm, bottom - FrameLineMm, outer: false)]);
    }

    /// <summary>Sides of a square in stretches of about 5 mm, dark inside for the outer boundary and outside for the inner one.</summary>
    private static IEnumerable<PrintedEdge> Frame(double left, double top, double right, double bottom, bool outer)
    {
        const double inset = 2;
        const int pieces = 14;
        PlanePoint[] corners = [new(left, top), new(right, top), new(right, bottom), new(left, bottom)];
        for (var side = 0; side < 4; side++)
        {
            // Clockwise with y down, what lies within is on the right.
            var (a, b) = (corners[side], corners[(side + 1) % 4]);
            var along = new PlanePoint((b.X - a.X) / a.DistanceTo(b), (b.Y - a.Y) / a.DistanceTo(b));
            var piece = (a.DistanceTo(b) - (2 * inset)) / pieces;
            for (var i = 0; i < pieces; i++)
            {
                var from = new PlanePoint(a.X + (along.X * (inset + (i * piece))), a.Y + (along.Y * (inset + (i * piece))));
                var to = new PlanePoint(from.X + (along.X * piece), from.Y + (along.Y * piece));
                yield return outer ? new PrintedEdge(from, to, 0, FrameLineMm) : new PrintedEdge(to, from, 0, FrameLineMm);
            }
        }
    }
}

using System.Collections.Immutable;
using MathNet.Numerics.LinearAlgebra;

namespace Pairbench.Imaging.Rows;

/// <summary>
/// The smooth path that a row follows: a cubic spline with a knot every 40 mm or so, fitted to the marks by least squares. Swings shorter than about
/// 65 mm are wander, longer ones are the shape of the seam. A row that turns much has its knots closer all along, so that a tight arc is no wander; swings must be shorter then to be told.
/// </summary>
/// <param name="Along">Position of each mark along the smooth path, in mm.</param>
/// <param name="Off">Distance of each mark from it, to the right above zero, in mm.</param>
/// <param name="Parameters">Numbers that the fit used for the shape across.</param>
public sealed record RowPath(ImmutableArray<double> Along, ImmutableArray<double> Off, int Parameters)
{
    private const double KnotEvery = 40;

    /// <summary>Radians that a row turns from knot to knot at most: a cubic follows an arc of the tightest radius of a shoe, 40 mm, within 0.04 mm so.</summary>
    private const double TurnOfPiece = 0.75;

    /// <summary>From the first mark to the last along the smooth path, in mm.</summary>
    public double Length => Along[^1] - Along[0];

    /// <param name="marks">In order along the row, at least two.</param>
    public static RowPath Of(ImmutableArray<PlanePoint> marks)
    {
        var chord = new double[marks.Length];
        for (var i = 1; i < marks.Length; i++)
        {
            chord[i] = chord[i - 1] + marks[i].DistanceTo(marks[i - 1]);
        }

        var length = chord[^1];
        var pieces = Math.Max(1, (int)Math.Round(length / KnotEvery));
        var line = Line(marks, chord, pieces, out var parameters);
        var turning = (int)Math.Ceiling(Turn(line) / TurnOfPiece);
        if (turning > pieces)
        {
            line = Line(marks, chord, turning, out parameters);
        }

        // Each mark is taken to the nearest place of the line.
        var run = new double[line.Length];
        for (var i = 1; i < line.Length; i++)
        {
            run[i] = run[i - 1] + line[i].DistanceTo(line[i - 1]);
        }

        var along = ImmutableArray.CreateBuilder<double>(marks.Length);
        var off = ImmutableArray.CreateBuilder<double>(marks.Length);
        var near = 0;
        foreach (var mark in marks)
        {
            while (near + 2 < line.Length && line[near + 1].DistanceTo(mark) <= line[near].DistanceTo(mark))
            {
                near++;
            }

            var a = line[Math.Max(0, near - 1)];
            var b = line[Math.Min(line.Length - 1, near + 1)];
            double dx = b.X - a.X, dy = b.Y - a.Y, d = Math.Max(1e-12, double.Hypot(dx, dy));
            along.Add(run[near] + ((((mark.X - line[near].X) * dx) + ((mark.Y - line[near].Y) * dy)) / d));
            off.Add((((mark.Y - line[near].Y) * dx) - ((mark.X - line[near].X) * dy)) / d);
        }

        return new RowPath(along.MoveToImmutable(), off.MoveToImmutable(), parameters);
    }

    /// <summary>The path as a fine line, a little beyond its ends.</summary>
    private static PlanePoint[] Line(ImmutableArray<PlanePoint> marks, double[] chord, int pieces, out int parameters)
    {
        var length = chord[^1];
        var count = Math.Min(pieces + 3, Math.Max(2, (int)(marks.Length / 2.5)));
        var basis = Matrix<double>.Build.Dense(marks.Length, count, (i, k) => Basis(chord[i] / Math.Max(1e-9, length), k, count));
        var solve = basis.QR();
        var x = solve.Solve(Vector<double>.Build.Dense(marks.Length, i => marks[i].X));
        var y = solve.Solve(Vector<double>.Build.Dense(marks.Length, i => marks[i].Y));
        PlanePoint At(double t)
        {
            double px = 0, py = 0;
            for (var k = 0; k < count; k++)
            {
                var b = Basis(t, k, count);
                (px, py) = (px + (b * x[k]), py + (b * y[k]));
            }

            return new PlanePoint(px, py);
        }

        parameters = count;
        var steps = (int)Math.Clamp(length / 0.1, 50, 20_000);
        return [.. Enumerable.Range(0, steps + 1).Select(i => At((i * 1.04 / steps) - 0.02))];
    }

    /// <summary>By how much a line turns in all, to either side, in radians.</summary>
    private static double Turn(PlanePoint[] line)
    {
        var turn = 0.0;
        for (var i = 1; i + 1 < line.Length; i++)
        {
            double ax = line[i].X - line[i - 1].X, ay = line[i].Y - line[i - 1].Y, bx = line[i + 1].X - line[i].X, by = line[i + 1].Y - line[i].Y;
            turn += Math.Abs(Math.Atan2((ax * by) - (ay * bx), (ax * bx) + (ay * by)));
        }

        return turn;
    }

    /// <summary>Uniform cubic B-spline, or a polynomial where there are fewer than four parameters.</summary>
    private static double Basis(double t, int k, int parameters)
    {
        if (parameters < 4)
        {
            return Math.Pow(t, k);
        }

        var u = (t * (parameters - 3)) - k + 3;
        return u switch
        {
            <= 0 or >= 4 => 0,
            < 1 => u * u * u / 6,
            < 2 => ((((-3 * u) + 12) * u * u) - (12 * u) + 4) / 6,
            < 3 => ((((3 * u) - 24) * u * u) + (60 * u) - 44) / 6,
            _ => Math.Pow(4 - u, 3) / 6,
        };
    }
}

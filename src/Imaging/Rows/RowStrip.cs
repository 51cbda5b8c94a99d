namespace Pairbench.Imaging.Rows;

/// <summary>A picture straightened along a curve: rows along it, columns across it, for each plane.</summary>
internal sealed class RowStrip
{
    public const int Planes = PicturePlanes.Count;

    private readonly float[][] _planes;

    private RowStrip(IRowPlanes source, float[][] planes, int count, int width, double from, double step, double across, double acrossStep) =>
        (Source, _planes, Count, Width, From, Step, AcrossFrom, AcrossStep) = (source, planes, count, width, from, step, across, acrossStep);

    public IRowPlanes Source { get; }

    /// <summary>Number of steps along.</summary>
    public int Count { get; }

    /// <summary>Number of columns across.</summary>
    public int Width { get; }

    public double From { get; }

    public double Step { get; }

    public double AcrossFrom { get; }

    public double AcrossStep { get; }

    public float[] this[int plane] => _planes[plane];

    public double Along(double index) => From + (index * Step);

    public double Across(double column) => AcrossFrom + (column * AcrossStep);

    /// <param name="centre">Offset of the middle column from the curve at a position, in mm.</param>
    /// <param name="half">Half of the width in mm.</param>
    public static RowStrip Of(IRowPlanes source, GuideCurve curve, Func<double, double> centre, (double From, double To, double Step) along, double half, double acrossStep)
    {
        var count = Math.Max(2, (int)Math.Ceiling((along.To - along.From) / along.Step) + 1);
        var side = (int)Math.Round(half / acrossStep);
        var width = (2 * side) + 1;
        var planes = new float[Planes][];
        for (var c = 0; c < Planes; c++)
        {
            planes[c] = new float[count * width];
        }

        Parallel.For(0, count, i =>
        {
            Span<double> values = stackalloc double[Planes];
            var s = along.From + (i * along.Step);
            var middle = centre(s);
            for (var j = 0; j < width; j++)
            {
                source.At(curve.At(s, middle + ((j - side) * acrossStep)), values);
                for (var c = 0; c < Planes; c++)
                {
                    planes[c][(i * width) + j] = (float)values[c];
                }
            }
        });
        return new RowStrip(source, planes, count, width, along.From, along.Step, -side * acrossStep, acrossStep);
    }
}

using Pairbench.Imaging.Datum;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Tests.Datum;

/// <summary>A printed target as reflectance (0 ink, 1 paper) on a fine raster; rectangles cover their share of each cell.</summary>
internal sealed class PrintRaster
{
    private const double PerMm = 8;

    private readonly float[] _ink;
    private readonly int _width;
    private readonly int _height;

    public PrintRaster(DatumTarget target)
    {
        Target = target;
        (_width, _height) = ((int)Math.Ceiling(target.Size.Width * PerMm), (int)Math.Ceiling(target.Size.Height * PerMm));
        _ink = new float[_width * _height];
        foreach (var area in target.Areas.Concat(target.Neutrals))
        {
            Cover(area.Place, 1 - Math.Pow(area.Grey / 255.0, 2.2), adds: false);
        }

        foreach (var code in target.Codes)
        {
            for (var row = 0; row < PrintedCode.Modules; row++)
            {
                for (var column = 0; column < PrintedCode.Modules; column++)
                {
                    if (code[column, row])
                    {
                        var at = code.At(column, row);
                        Cover(new PlaneRect(at.X, at.Y, code.ModuleMm, code.ModuleMm), 1, adds: true);
                    }
                }
            }
        }
    }

    public DatumTarget Target { get; }

    /// <summary>Reflectance at a printed place; null beside the paper.</summary>
    public double? At(double x, double y)
    {
        var (fx, fy) = ((x * PerMm) - 0.5, (y * PerMm) - 0.5);
        var (left, top) = ((int)Math.Floor(fx), (int)Math.Floor(fy));
        if (left < 0 || top < 0 || left + 1 >= _width || top + 1 >= _height)
        {
            return null;
        }

        var (u, v) = (fx - left, fy - top);
        var at = (top * _width) + left;
        var ink = ((1 - v) * (((1 - u) * _ink[at]) + (u * _ink[at + 1]))) + (v * (((1 - u) * _ink[at + _width]) + (u * _ink[at + _width + 1])));
        return 0.86 - (0.82 * ink);
    }

    private void Cover(PlaneRect place, double ink, bool adds)
    {
        var (x0, y0, x1, y1) = (place.Left * PerMm, place.Top * PerMm, (place.Left + place.Width) * PerMm, (place.Top + place.Height) * PerMm);
        for (var y = Math.Max(0, (int)y0); y < Math.Min(_height, (int)Math.Ceiling(y1)); y++)
        {
            var high = Math.Min(y1, y + 1) - Math.Max(y0, y);
            for (var x = Math.Max(0, (int)x0); x < Math.Min(_width, (int)Math.Ceiling(x1)); x++)
            {
                var covered = (float)(ink * high * (Math.Min(x1, x + 1) - Math.Max(x0, x)));
                ref var cell = ref _ink[(y * _width) + x];
                cell = adds ? Math.Min(1, cell + covered) : Math.Max(cell, covered);
            }
        }
    }
}

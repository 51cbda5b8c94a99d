namespace Pairbench.Imaging.Regions;

/// <summary>Planes at another size and shifted.</summary>
internal static class PlaneSizes
{
    /// <summary>The plane in the upper left of one of another size; what is new is zero.</summary>
    public static Plane Sized(this Plane source, int width, int height)
    {
        var result = new Plane(width, height);
        for (var y = 0; y < Math.Min(height, source.Height); y++)
        {
            source.Values.AsSpan(y * source.Width, Math.Min(width, source.Width)).CopyTo(result.Values.AsSpan(y * width));
        }

        return result;
    }

    /// <summary>At each place what lies <paramref name="dx"/> to the right and <paramref name="dy"/> below; zero from beyond the border.</summary>
    public static Plane Shifted(this Plane source, int dx, int dy)
    {
        var result = new Plane(source.Width, source.Height);
        var (left, count) = (Math.Max(0, -dx), source.Width - Math.Abs(dx));
        for (var y = Math.Max(0, -dy); count > 0 && y < Math.Min(source.Height, source.Height - dy); y++)
        {
            source.Values.AsSpan(((y + dy) * source.Width) + left + dx, count).CopyTo(result.Values.AsSpan((y * source.Width) + left));
        }

        return result;
    }

    /// <summary>Means of two by two pixels. Width and height are even.</summary>
    public static Plane Halved(this Plane source)
    {
        var result = new Plane(source.Width / 2, source.Height / 2);
        for (var y = 0; y < result.Height; y++)
        {
            int o = y * result.Width, a = 2 * y * source.Width, b = a + source.Width;
            for (var x = 0; x < result.Width; x++)
            {
                result.Values[o + x] = 0.25f * (source.Values[a + (2 * x)] + source.Values[a + (2 * x) + 1] + source.Values[b + (2 * x)] + source.Values[b + (2 * x) + 1]);
            }
        }

        return result;
    }

    /// <summary>Four planes of half the size: upper left, upper right, lower left and lower right of each two by two pixels. Width and height are even.</summary>
    public static Plane[] Parted(this Plane source) =>
        [.. Enumerable.Range(0, 4).Select(k =>
        {
            var part = new Plane(source.Width / 2, source.Height / 2);
            for (var y = 0; y < part.Height; y++)
            {
                var from = (((2 * y) + (k / 2)) * source.Width) + (k % 2);
                for (var x = 0; x < part.Width; x++)
                {
                    part.Values[(y * part.Width) + x] = source.Values[from + (2 * x)];
                }
            }

            return part;
        })];

    /// <summary>The opposite of <see cref="Parted"/>.</summary>
    public static Plane Woven(ReadOnlySpan<Plane> parts)
    {
        int width = parts[0].Width, height = parts[0].Height;
        var result = new Plane(2 * width, 2 * height);
        for (var k = 0; k < 4; k++)
        {
            for (var y = 0; y < height; y++)
            {
                var to = (((2 * y) + (k / 2)) * result.Width) + (k % 2);
                for (var x = 0; x < width; x++)
                {
                    result.Values[to + (2 * x)] = parts[k].Values[(y * width) + x];
                }
            }
        }

        return result;
    }
}

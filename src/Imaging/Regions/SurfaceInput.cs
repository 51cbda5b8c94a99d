namespace Pairbench.Imaging.Regions;

/// <summary>
/// Picture and surface mask as the planes that <see cref="SurfaceNetwork"/> takes: logarithm of the luminance less its mean over the surface and less its
/// surroundings, red and blue against green, grain, the mask, narrow structures and heights from shade. The training script computes the same.
/// </summary>
internal static class SurfaceInput
{
    public static Plane[] Of(RgbImage picture, bool[] inside, double pixelsPerMm)
    {
        int width = picture.Width, height = picture.Height, count = width * height;
        var table = new float[256];
        for (var v = 0; v < 256; v++)
        {
            var c = v / 255.0;
            table[v] = (float)(c <= 0.04045 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4));
        }

        float[] l = new float[count], r = new float[count], b = new float[count], m = new float[count];
        var pixels = picture.Pixels;
        double ml = 0, mr = 0, mb = 0;
        var n = 0;
        for (var i = 0; i < count; i++)
        {
            float red = table[pixels[3 * i]], green = table[pixels[(3 * i) + 1]], blue = table[pixels[(3 * i) + 2]];
            l[i] = MathF.Log((0.2126f * red) + (0.7152f * green) + (0.0722f * blue) + 0.01f);
            r[i] = MathF.Log((red + 0.01f) / (green + 0.01f));
            b[i] = MathF.Log((blue + 0.01f) / (green + 0.01f));
            m[i] = inside[i] ? 1 : 0;
            if (inside[i])
            {
                (ml, mr, mb, n) = (ml + l[i], mr + r[i], mb + b[i], n + 1);
            }
        }

        n = Math.Max(1, n);
        (ml, mr, mb) = (ml / n, mr / n, mb / n);
        var inner = new Plane(width, height);
        var masked = new Plane(width, height);
        for (var i = 0; i < count; i++)
        {
            inner.Values[i] = inside[i] ? l[i] : (float)ml;
            masked.Values[i] = inside[i] ? l[i] : 0;
        }

        var detail = inner - inner.Mean(1);
        var grain = (detail * detail).Mean(2).Map(v => MathF.Log(v + 1e-5f));
        var mask = new Plane(width, height, m);
        var radius = (int)Math.Round(12 * pixelsPerMm);
        var weight = Wide(mask, radius);
        var around = Wide(masked, radius);
        double mg = 0;
        for (var i = 0; i < count; i++)
        {
            mg += inside[i] ? grain.Values[i] : 0;
        }

        mg /= n;
        Plane[] planes = [new(width, height), new(width, height), new(width, height), new(width, height), new(width, height), mask];
        for (var i = 0; i < count; i++)
        {
            if (inside[i])
            {
                planes[0].Values[i] = l[i] - (float)ml;
                planes[1].Values[i] = l[i] - (around.Values[i] / Math.Max(1e-3f, weight.Values[i]));
                planes[2].Values[i] = r[i] - (float)mr;
                planes[3].Values[i] = b[i] - (float)mb;
                planes[4].Values[i] = 0.5f * (grain.Values[i] - (float)mg);
            }
        }

        return [.. planes, .. Relief(planes[1], mask, pixelsPerMm)];
    }

    /// <summary>Narrow dark and bright structures, and heights from shade along four directions.</summary>
    private static List<Plane> Relief(Plane flat, Plane mask, double pixelsPerMm)
    {
        var planes = new List<Plane>();
        foreach (var mm in (ReadOnlySpan<double>)[1.4, 3.2])
        {
            var radius = Math.Max(1, (int)Math.Round(mm * pixelsPerMm));
            planes.Add((flat.Highest(radius).Lowest(radius) - flat) * mask);
            planes.Add((flat - flat.Lowest(radius).Highest(radius)) * mask);
        }

        foreach (var (dx, dy) in (ReadOnlySpan<(int, int)>)[(1, 0), (0, 1), (1, 1), (1, -1)])
        {
            planes.Add(flat.Accumulated(dx, dy, 4 * pixelsPerMm).Map(v => v / (float)pixelsPerMm) * mask);
        }

        return planes;
    }

    private static Plane Wide(Plane values, int radius) => values.MeanWithZeros(radius).MeanWithZeros(radius).MeanWithZeros(radius);
}

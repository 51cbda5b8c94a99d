namespace Pairbench.Imaging.Regions;

/// <summary>
/// What a part of a picture looks like at every pixel, at the working size: colour, contrast to the surroundings at several widths, dark and bright narrow
/// structures, height from shade, grain and sheen. Made once for a photograph; every new dab uses it again.
/// </summary>
internal sealed class SurfaceFeatures
{
    private SurfaceFeatures(Plane mask, Plane[] relief, Plane lightness, Plane red, Plane blue, Plane grain, Plane fine)
    {
        Mask = mask;
        Relief = relief;
        Lightness = lightness;
        Red = red;
        Blue = blue;
        Grain = grain;
        Fine = fine;
    }

    public int Width => Mask.Width;

    public int Height => Mask.Height;

    /// <summary>1 on the surface, 0 elsewhere.</summary>
    public Plane Mask { get; }

    /// <summary>Features that tell grooves from blocks.</summary>
    public Plane[] Relief { get; }

    /// <summary>Logarithm of the luminance.</summary>
    public Plane Lightness { get; }

    /// <summary>Logarithm of red over green.</summary>
    public Plane Red { get; }

    /// <summary>Logarithm of blue over green.</summary>
    public Plane Blue { get; }

    /// <summary>Square of the finest detail.</summary>
    public Plane Grain { get; }

    /// <summary>Square of the next coarser detail.</summary>
    public Plane Fine { get; }

    /// <param name="picture">The part of the picture at working size.</param>
    /// <param name="inside">The surface, one a pixel.</param>
    /// <param name="pixelsPerMm">Of the working size; sets the width of the structures looked for.</param>
    public static SurfaceFeatures Of(RgbImage picture, bool[] inside, double pixelsPerMm)
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
        for (var i = 0; i < count; i++)
        {
            float red = table[pixels[3 * i]], green = table[pixels[(3 * i) + 1]], blue = table[pixels[(3 * i) + 2]];
            l[i] = MathF.Log((0.2126f * red) + (0.7152f * green) + (0.0722f * blue) + 0.01f);
            r[i] = MathF.Log((red + 0.01f) / (green + 0.01f));
            b[i] = MathF.Log((blue + 0.01f) / (green + 0.01f));
            m[i] = inside[i] ? 1 : 0;
        }

        Plane lightness = new(width, height, l), redness = new(width, height, r), blueness = new(width, height, b), mask = new(width, height, m);
        double Px(double mm) => mm * pixelsPerMm;
        var features = new List<Plane>();
        var soft = lightness.Blurred(Px(0.25));
        Plane Around(Plane p, double mm) => p.BlurredWithin(mask, mask.Blurred(Px(mm)), Px(mm));
        Plane l1 = Around(lightness, 0.7), l2 = Around(lightness, 1.6), l4 = Around(lightness, 3.5), l8 = Around(lightness, 8), l16 = Around(lightness, 18);
        features.Add(soft - l2);
        features.Add(l1 - l4);
        features.Add(l1 - l8);
        features.Add(l2 - l8);
        features.Add(l2 - l16);
        features.Add(redness.Blurred(Px(0.7)) - Around(redness, 8));
        features.Add(blueness.Blurred(Px(0.7)) - Around(blueness, 8));
        // Narrow dark and bright structures, against what lies on both sides of them.
        var flat = Within(soft, l8, inside);
        foreach (var mm in new[] { 1.4, 3.2 })
        {
            var radius = Math.Max(1, (int)Math.Round(Px(mm)));
            features.Add(flat.Highest(radius).Lowest(radius) - flat);
            features.Add(flat - flat.Lowest(radius).Highest(radius));
        }

        // Height from shade along four directions.
        var shade = Within(lightness, l8, inside) - l8.With(mask, (v, k) => k > 0 ? v : 0);
        shade = shade * mask;
        foreach (var (dx, dy) in new[] { (1, 0), (0, 1), (1, 1), (1, -1) })
        {
            features.Add(shade.Accumulated(dx, dy, Px(4)).Blurred(Px(0.4)));
        }

        var gx = new Plane(width, height);
        for (var y = 1; y < height - 1; y++)
        {
            for (var x = 1; x < width - 1; x++)
            {
                var i = (y * width) + x;
                float dx = soft.Values[i + 1] - soft.Values[i - 1], dy = soft.Values[i + width] - soft.Values[i - width];
                gx.Values[i] = inside[i] ? (dx * dx) + (dy * dy) : 0;
            }
        }

        features.Add(gx.Blurred(Px(0.4)).Map(v => MathF.Log(v + 1e-4f)));
        features.Add(gx.Blurred(Px(1.6)).Map(v => MathF.Log(v + 1e-4f)));
        var detail = lightness - lightness.Blurred(0.8);
        var grain = detail * detail;
        var next = lightness.Blurred(0.8) - lightness.Blurred(2);
        return new SurfaceFeatures(mask, [.. features], lightness, redness, blueness, grain, next * next);
    }

    private static Plane Within(Plane values, Plane outside, bool[] inside)
    {
        var result = new float[inside.Length];
        for (var i = 0; i < result.Length; i++)
        {
            result[i] = inside[i] ? values.Values[i] : outside.Values[i];
        }

        return new Plane(values.Width, values.Height, result);
    }
}

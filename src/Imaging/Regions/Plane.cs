namespace Pairbench.Imaging.Regions;

/// <summary>One number a pixel, rows from the top. Filters give new planes.</summary>
internal sealed class Plane(int width, int height, float[] values)
{
    public Plane(int width, int height)
        : this(width, height, new float[width * height])
    {
    }

    public int Width { get; } = width;

    public int Height { get; } = height;

    public float[] Values { get; } = values;

    public float this[int x, int y] => Values[(y * Width) + x];

    public Plane Map(Func<float, float> function)
    {
        var result = new float[Values.Length];
        for (var i = 0; i < result.Length; i++)
        {
            result[i] = function(Values[i]);
        }

        return new Plane(Width, Height, result);
    }

    public Plane With(Plane other, Func<float, float, float> function)
    {
        var result = new float[Values.Length];
        for (var i = 0; i < result.Length; i++)
        {
            result[i] = function(Values[i], other.Values[i]);
        }

        return new Plane(Width, Height, result);
    }

    public static Plane operator -(Plane a, Plane b)
    {
        var result = new float[a.Values.Length];
        for (var i = 0; i < result.Length; i++)
        {
            result[i] = a.Values[i] - b.Values[i];
        }

        return new Plane(a.Width, a.Height, result);
    }

    public static Plane operator *(Plane a, Plane b)
    {
        var result = new float[a.Values.Length];
        for (var i = 0; i < result.Length; i++)
        {
            result[i] = a.Values[i] * b.Values[i];
        }

        return new Plane(a.Width, a.Height, result);
    }

    /// <summary>Near-Gaussian blur: three running means whose variances add up to the square of <paramref name="sigma"/>.</summary>
    public Plane Blurred(double sigma)
    {
        if (sigma < 0.45)
        {
            return this;
        }

        var result = this;
        var left = sigma * sigma * 12;
        for (var pass = 0; pass < 3; pass++)
        {
            // A mean over w pixels has the variance (w^2 - 1) / 12.
            var width = (int)Math.Round(Math.Sqrt((left / (3 - pass)) + 1));
            width += width % 2 == 0 ? 1 : 0;
            left -= (width * width) - 1;
            result = width > 1 ? result.Mean(width / 2) : result;
            if (left <= 0)
            {
                break;
            }
        }

        return result;
    }

    /// <summary>Mean over a square of 2 <paramref name="radius"/> + 1 pixels; at the frame over what lies in the picture.</summary>
    public Plane Mean(int radius) => Mean(radius, false);

    /// <summary>Mean over a square of 2 <paramref name="radius"/> + 1 pixels, with zeros outside the picture.</summary>
    public Plane MeanWithZeros(int radius) => Mean(radius, true);

    private Plane Mean(int radius, bool zeros)
    {
        if (radius < 1)
        {
            return this;
        }

        var across = new float[Values.Length];
        var result = new float[Values.Length];
        for (var y = 0; y < Height; y++)
        {
            var row = y * Width;
            double sum = 0;
            for (var x = 0; x < Math.Min(radius, Width); x++)
            {
                sum += Values[row + x];
            }

            for (var x = 0; x < Width; x++)
            {
                if (x + radius < Width)
                {
                    sum += Values[row + x + radius];
                }

                if (x - radius - 1 >= 0)
                {
                    sum -= Values[row + x - radius - 1];
                }

                across[row + x] = (float)(sum / (zeros ? (2 * radius) + 1 : Math.Min(Width - 1, x + radius) - Math.Max(0, x - radius) + 1));
            }
        }

        var sums = new double[Width];
        for (var y = 0; y < Math.Min(radius, Height); y++)
        {
            for (var x = 0; x < Width; x++)
            {
                sums[x] += across[(y * Width) + x];
            }
        }

        for (var y = 0; y < Height; y++)
        {
            int enter = y + radius, leave = y - radius - 1;
            var scale = 1.0 / (zeros ? (2 * radius) + 1 : Math.Min(Height - 1, y + radius) - Math.Max(0, y - radius) + 1);
            for (var x = 0; x < Width; x++)
            {
                if (enter < Height)
                {
                    sums[x] += across[(enter * Width) + x];
                }

                if (leave >= 0)
                {
                    sums[x] -= across[(leave * Width) + x];
                }

                result[(y * Width) + x] = (float)(sums[x] * scale);
            }
        }

        return new Plane(Width, Height, result);
    }

    /// <summary>Blur that takes account of <paramref name="weight"/> only: values outside it do not bleed in.</summary>
    public Plane BlurredWithin(Plane weight, Plane weightBlurred, double sigma)
    {
        var sum = (this * weight).Blurred(sigma);
        var result = new float[Values.Length];
        for (var i = 0; i < result.Length; i++)
        {
            result[i] = weightBlurred.Values[i] > 1e-3f ? sum.Values[i] / weightBlurred.Values[i] : 0;
        }

        return new Plane(Width, Height, result);
    }

    /// <summary>Greatest value in a square of 2 <paramref name="radius"/> + 1 pixels.</summary>
    public Plane Highest(int radius) => Extreme(radius, 1);

    /// <summary>Least value in a square of 2 <paramref name="radius"/> + 1 pixels.</summary>
    public Plane Lowest(int radius) => Extreme(radius, -1);

    /// <summary>Half the difference of what lies before and behind along one direction, fading over <paramref name="reach"/> pixels.</summary>
    /// <remarks>Of shading, this is the height along the lamp's direction, less slow drifts.</remarks>
    public Plane Accumulated(int dx, int dy, double reach)
    {
        var result = new float[Values.Length];
        var step = Math.Sqrt((dx * dx) + (dy * dy));
        var keep = (float)Math.Exp(-step / reach);
        var before = new float[Values.Length];
        for (var pass = 0; pass < 2; pass++)
        {
            int sx = pass == 0 ? dx : -dx, sy = pass == 0 ? dy : -dy;
            int startY = sy >= 0 ? 0 : Height - 1, stepY = sy >= 0 ? 1 : -1, startX = sx >= 0 ? 0 : Width - 1, stepX = sx >= 0 ? 1 : -1;
            for (int n = 0, y = startY; n < Height; n++, y += stepY)
            {
                for (int m = 0, x = startX; m < Width; m++, x += stepX)
                {
                    int px = x - sx, py = y - sy;
                    var i = (y * Width) + x;
                    before[i] = px >= 0 && py >= 0 && px < Width && py < Height ? keep * (before[(py * Width) + px] + Values[(py * Width) + px]) : 0;
                    result[i] += (pass == 0 ? 0.5f : -0.5f) * before[i] * (float)step;
                }
            }
        }

        return new Plane(Width, Height, result);
    }

    private Plane Extreme(int radius, int sign)
    {
        var across = new float[Values.Length];
        var result = new float[Values.Length];
        var span = (2 * radius) + 1;
        var line = new float[Math.Max(Width, Height) + (2 * radius)];
        var forward = new float[line.Length];
        var backward = new float[line.Length];
        for (var y = 0; y < Height; y++)
        {
            Run(Values, y * Width, 1, Width, across);
        }

        for (var x = 0; x < Width; x++)
        {
            Run(across, x, Width, Height, result);
        }

        return new Plane(Width, Height, result);

        // van Herk and Gil-Werman: two running extremes per block.
        void Run(float[] source, int start, int stride, int count, float[] target)
        {
            var total = count + (2 * radius);
            for (var i = 0; i < total; i++)
            {
                line[i] = sign * source[start + (Math.Clamp(i - radius, 0, count - 1) * stride)];
            }

            for (var i = 0; i < total; i++)
            {
                forward[i] = i % span == 0 ? line[i] : Math.Max(forward[i - 1], line[i]);
            }

            for (var i = total - 1; i >= 0; i--)
            {
                backward[i] = i == total - 1 || i % span == span - 1 ? line[i] : Math.Max(backward[i + 1], line[i]);
            }

            for (var i = 0; i < count; i++)
            {
                target[start + (i * stride)] = sign * Math.Max(backward[i], forward[i + span - 1]);
            }
        }
    }
}

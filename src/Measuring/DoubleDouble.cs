namespace Pairbench.Measuring;

/// <summary>An unevaluated sum of two doubles: about 32 digits (Dekker 1971, Knuth's two-sum). For sums that cancel.</summary>
internal readonly record struct DoubleDouble(double High, double Low = 0)
{
    public double Value => High + Low;

    public static implicit operator DoubleDouble(double value) => new(value);

    public static DoubleDouble operator +(DoubleDouble a, DoubleDouble b)
    {
        var (s, e) = TwoSum(a.High, b.High);
        var (t, f) = TwoSum(a.Low, b.Low);
        var (u, g) = Quick(s, e + t);
        (u, g) = Quick(u, g + f);
        return new(u, g);
    }

    public static DoubleDouble operator -(DoubleDouble a) => new(-a.High, -a.Low);

    public static DoubleDouble operator -(DoubleDouble a, DoubleDouble b) => a + -b;

    public static DoubleDouble operator *(DoubleDouble a, DoubleDouble b)
    {
        var p = a.High * b.High;
        var e = Math.FusedMultiplyAdd(a.High, b.High, -p) + (a.High * b.Low) + (a.Low * b.High);
        var (h, l) = Quick(p, e);
        return new(h, l);
    }

    public static DoubleDouble operator /(DoubleDouble a, DoubleDouble b)
    {
        var first = a.High / b.High;
        var rest = a - (b * first);
        var second = rest.High / b.High;
        rest -= b * second;
        return new DoubleDouble(first) + second + (rest.High / b.High);
    }

    public static DoubleDouble Sqrt(DoubleDouble a)
    {
        if (a.High <= 0)
        {
            return 0;
        }

        var root = Math.Sqrt(a.High);
        return new DoubleDouble(root) + ((a - (new DoubleDouble(root) * root)).High / (2 * root));
    }

    public static DoubleDouble Sum(ReadOnlySpan<double> values)
    {
        DoubleDouble sum = 0;
        foreach (var value in values)
        {
            sum += value;
        }

        return sum;
    }

    private static (double Sum, double Error) TwoSum(double a, double b)
    {
        var s = a + b;
        var t = s - a;
        return (s, a - (s - t) + (b - t));
    }

    private static (double Sum, double Error) Quick(double a, double b)
    {
        var s = a + b;
        return (s, b - (s - a));
    }
}

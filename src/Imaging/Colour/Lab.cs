namespace Pairbench.Imaging.Colour;

/// <summary>A colour, or a difference of two, in CIE L*a*b* (CIE 15; 2 degree observer). The white it refers to is stated beside it.</summary>
public readonly record struct Lab(double L, double A, double B)
{
    /// <summary>C*ab: distance from the grey axis.</summary>
    public double Chroma => Math.Sqrt((A * A) + (B * B));

    /// <summary>Straight length, which for a difference is dE*ab (CIE 1976).</summary>
    public double Length => Math.Sqrt((L * L) + (A * A) + (B * B));

    public static Lab operator +(Lab a, Lab b) => new(a.L + b.L, a.A + b.A, a.B + b.B);

    public static Lab operator -(Lab a, Lab b) => new(a.L - b.L, a.A - b.A, a.B - b.B);

    public static Lab operator *(double factor, Lab lab) => new(factor * lab.L, factor * lab.A, factor * lab.B);
}

/// <summary>Light in the primaries of sRGB, proportional to radiance; 1 is the white of the picture.</summary>
public readonly record struct LinearRgb(double Red, double Green, double Blue)
{
    /// <summary>Y of the colour (IEC 61966-2-1).</summary>
    public double Luminance => (0.2126729 * Red) + (0.7151522 * Green) + (0.0721750 * Blue);

    public static LinearRgb operator *(LinearRgb a, LinearRgb b) => new(a.Red * b.Red, a.Green * b.Green, a.Blue * b.Blue);
}

namespace Pairbench.Imaging.Tests.Geometry;

internal static class Draw
{
    public static double Gauss(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    public static PixelPoint Click(PixelPoint p, double sigma, Random random) => new(p.X + (sigma * Gauss(random)), p.Y + (sigma * Gauss(random)));
}

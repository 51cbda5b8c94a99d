using Pairbench.Imaging;

namespace Pairbench.Footwear;

/// <summary>A rectangle on a photograph in pixels: <c>[x, y, w, h]</c>.</summary>
public readonly record struct PixelRect(double X, double Y, double W, double H)
{
    public PixelPoint Centre => new(X + (W / 2), Y + (H / 2));
}

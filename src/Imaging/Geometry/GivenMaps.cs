namespace Pairbench.Imaging.Geometry;

/// <summary>First radial term of the lens about the middle of the picture.</summary>
internal readonly record struct Lens(PixelPoint Centre, double FocalPx, double K1)
{
    public PixelPoint Straight(PixelPoint p)
    {
        if (K1 == 0)
        {
            return p;
        }

        var (x, y) = ((p.X - Centre.X) / FocalPx, (p.Y - Centre.Y) / FocalPx);
        var factor = 1 - (K1 * ((x * x) + (y * y)));
        return new PixelPoint(Centre.X + (factor * x * FocalPx), Centre.Y + (factor * y * FocalPx));
    }

    /// <summary>The inverse of <see cref="Straight"/>, by fixed-point iteration.</summary>
    public PixelPoint Bent(PixelPoint straight)
    {
        if (K1 == 0)
        {
            return straight;
        }

        var (x, y) = ((straight.X - Centre.X) / FocalPx, (straight.Y - Centre.Y) / FocalPx);
        var (u, v) = (x, y);
        for (var i = 0; i < 30; i++)
        {
            var factor = 1 - (K1 * ((u * u) + (v * v)));
            (u, v) = (x / factor, y / factor);
        }

        return new PixelPoint(Centre.X + (u * FocalPx), Centre.Y + (v * FocalPx));
    }

    public double AreaFactor(PixelPoint p)
    {
        if (K1 == 0)
        {
            return 1;
        }

        var (x, y) = ((p.X - Centre.X) / FocalPx, (p.Y - Centre.Y) / FocalPx);
        var r2 = (x * x) + (y * y);
        return (1 - (K1 * r2)) * (1 - (3 * K1 * r2));
    }
}

/// <summary>A picture taken straight from above, or a scan.</summary>
internal sealed record Affine(double MmPerPxX, double MmPerPxY, Lens Lens) : IPlaneMap
{
    public PlanePoint ToPlane(PixelPoint pixel)
    {
        var p = Lens.Straight(pixel);
        return new PlanePoint(p.X * MmPerPxX, p.Y * MmPerPxY);
    }

    public PixelPoint ToPicture(PlanePoint place) => Lens.Bent(new PixelPoint(place.X / MmPerPxX, place.Y / MmPerPxY));

    public double AreaOfPixel(PixelPoint pixel) => MmPerPxX * MmPerPxY * Lens.AreaFactor(pixel);
}

/// <summary>A picture of a plane at any tilt.</summary>
internal sealed record Projective(Homography ToMm, PixelPoint Centre, Lens Lens, Homography ToPictureMap) : IPlaneMap
{
    public PlanePoint ToPlane(PixelPoint pixel)
    {
        var p = Lens.Straight(pixel);
        var (x, y) = ToMm.Map(p.X - Centre.X, p.Y - Centre.Y);
        return double.IsFinite(x) && double.IsFinite(y) && ToPictureMap.Depth(x, y) * ToPictureMap.Depth(0, 0) > 0
            ? new PlanePoint(x, y)
            : throw new ScaleException("corners", $"the point [{pixel.X:0.#}, {pixel.Y:0.#}] lies beyond the horizon of the plane", "measure places that lie on the plane of the scale");
    }

    public PixelPoint ToPicture(PlanePoint place)
    {
        if (ToPictureMap.Depth(place.X, place.Y) * ToPictureMap.Depth(0, 0) <= 0)
        {
            throw new ScaleException("corners", $"the place [{place.X:0.#}, {place.Y:0.#}] mm lies behind the camera", "keep to the part of the plane that the picture shows");
        }

        var (x, y) = ToPictureMap.Map(place.X, place.Y);
        return Lens.Bent(new PixelPoint(x + Centre.X, y + Centre.Y));
    }

    public double AreaOfPixel(PixelPoint pixel)
    {
        var p = Lens.Straight(pixel);
        return ToMm.AreaFactor(p.X - Centre.X, p.Y - Centre.Y) * Lens.AreaFactor(pixel);
    }
}

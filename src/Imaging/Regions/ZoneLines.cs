namespace Pairbench.Imaging.Regions;

/// <summary>Where traced zones of material meet: an edge there need not be that of a groove.</summary>
/// <param name="Traced">Whether any zone was traced.</param>
/// <param name="Lines">How much of each place lies on such a line, at half the size, 0 to 1.</param>
internal sealed record ZoneLines(bool Traced, Plane Lines)
{
    /// <param name="label">By pixel of the surface, the label of its zone; 0 outside them all.</param>
    public static ZoneLines Of(SurfacePicture surface, byte[] label)
    {
        var lines = new Plane(surface.Sight.Width, surface.Sight.Height);
        var traced = false;
        for (var y = 0; y < surface.Height; y++)
        {
            for (var x = 0; x < surface.Width; x++)
            {
                var i = (y * surface.Width) + x;
                traced |= label[i] != 0;
                if ((x + 1 < surface.Width && Differ(i, i + 1)) || (y + 1 < surface.Height && Differ(i, i + surface.Width)))
                {
                    lines.Values[(y / 2 * lines.Width) + (x / 2)] += 0.25f;
                }
            }
        }

        return new ZoneLines(traced, lines);

        bool Differ(int a, int b) => label[a] != label[b] && surface.Inside[a] && surface.Inside[b];
    }
}

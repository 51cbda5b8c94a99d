using System.Collections.Immutable;
using Pairbench.Footwear.Tests.Underfoot;
using Pairbench.Footwear.Underfoot;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Benchmarks.Underfoot;

/// <summary>A sole as <see cref="Export"/> and <c>training/render_many.py</c> lay it out, with a hand that dabs and traces it.</summary>
internal sealed record ExportedSole(string Name, RgbImage Photo, double PixelsPerMm, double TextileShare, TruthHand Hand)
{
    private const byte Full = 4;
    private const byte Textile = 2;

    public ScanScale Scale => new(25.4 * PixelsPerMm, ClickSigmaPx: 0.5);

    public static ExportedSole Read(string path)
    {
        using var file = new BinaryReader(File.OpenRead(path));
        var size = new PixelSize(file.ReadInt32(), file.ReadInt32());
        double perMm = file.ReadSingle();
        file.ReadBytes(file.ReadInt32());
        var count = (int)size.Count;
        var photo = new RgbImage(size, file.ReadBytes(count * 3));
        byte[] cover = file.ReadBytes(count), material = file.ReadBytes(count);
        var contact = cover.Select((c, i) => c == Full ? material[i] : c == 0 ? (byte)0 : TruthHand.Mixed).ToArray();
        double touching = 0, textile = 0;
        for (var i = 0; i < count; i++)
        {
            touching += cover[i];
            textile += material[i] == Textile ? cover[i] : 0;
        }

        return new ExportedSole(Path.GetFileNameWithoutExtension(path), photo, perMm, 100 * textile / touching, new TruthHand(size, contact, material, perMm));
    }

    /// <summary>What the hand of a number hands in.</summary>
    public (ImmutableArray<PixelPoint> Outline, ImmutableArray<DabOf> Dabs, ImmutableArray<RegionOf> Regions) Marks(int number, bool dabsAlone)
    {
        var random = new Random(number);
        return (Hand.Outline(random), Hand.Dabs(random, dabsAlone), dabsAlone ? [] : [.. Hand.Zones(random)]);
    }
}

using System.Text.Json;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Photographs;
using Pairbench.Imaging.Rows;

namespace Pairbench.Reference.Imaging;

/// <summary>
/// Stitches of a double row, thread much lighter than its ground, beside their middles as SciPy 1.10.1 finds them (ndimage.label and center_of_mass of the
/// thresholded picture); <c>data/rows.py</c> drew the picture and made the values.
/// </summary>
public sealed class RowTests
{
    private static readonly string Folder = Path.Combine(AppContext.BaseDirectory, "Imaging", "data");

    private static readonly JsonElement Values = JsonDocument.Parse(File.ReadAllText(Path.Combine(Folder, "rows.json"))).RootElement;

    [Theory]
    [InlineData("upper")]
    [InlineData("lower")]
    public void EveryStitchLiesWhereItsThreadDoes(string name)
    {
        var theirs = Values.GetProperty(name).EnumerateArray().Select(p => new PixelPoint(p[0].GetDouble(), p[1].GetDouble())).OrderBy(p => p.X).ToArray();
        var perMm = Values.GetProperty("pixelsPerMm").GetDouble();
        var photo = PhotoFile.Open("rows.png", File.ReadAllBytes(Path.Combine(Folder, "rows.png")));
        var scale = PlaneMapping.Of(new ScanScale(25.4 * perMm, ScaleUncertaintyPct: 0), "rows.png", photo.Size, CameraFacts.Unknown);

        // A careless hand: half a millimetre off, towards the other row and away from it.
        foreach (var off in new[] { -0.5 * perMm, 0.5 * perMm })
        {
            var found = RowFinder.Find(photo.Decode(), scale, [new(theirs[0].X, theirs.Average(p => p.Y) + off), new(theirs[^1].X, theirs.Average(p => p.Y) + off)])!;

            Assert.Equal(theirs.Length, found.Marks.Length);
            Assert.All(found.Marks.OrderBy(m => m.Pixel.X).Zip(theirs), p => Assert.InRange(p.First.Pixel.DistanceTo(p.Second) / perMm, 0, 0.2));
            Assert.InRange(found.Pitch * perMm / ((theirs[^1].X - theirs[0].X) / (theirs.Length - 1)), 0.995, 1.01);
            Assert.Equal(0, found.Missing);
        }
    }
}

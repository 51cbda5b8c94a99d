using System.Diagnostics;
using System.Globalization;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Tests.Scenes;

// A tilted A3 rectangle in 12 megapixels, resampled to 12 megapixels; the best of eight. Processor time is told as well: on a busy machine it is the steadier of the two.
var size = new PixelSize(4000, 3000);
var pixels = new byte[size.Count * 3];
new Random(20261125).NextBytes(pixels);
var photo = new MemoryPhoto(new RgbImage(size, pixels));
var mapping = PlaneMapping.Of(new RectangleScale([new(300, 250), new(3700, 350), new(3500, 2700), new(450, 2600)], new SizeMm(400, 300), ClickSigmaPx: 0, ScaleUncertaintyPct: 0, LensSigma: 0), "a.png", size, CameraFacts.Unknown);
var (best, work) = (double.PositiveInfinity, double.PositiveInfinity);
using var self = Process.GetCurrentProcess();
for (var run = 0; run < 8; run++)
{
    self.Refresh();
    var before = self.TotalProcessorTime;
    var started = Stopwatch.GetTimestamp();
    Rectifier.Rectify(photo, mapping, new PlaneRect(0, 0, 400, 300), 10);
    best = Math.Min(best, Stopwatch.GetElapsedTime(started).TotalMilliseconds);
    self.Refresh();
    work = Math.Min(work, (self.TotalProcessorTime - before).TotalMilliseconds);
}

Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Pairbench: {best:0} ms, {work:0} ms of processor"));

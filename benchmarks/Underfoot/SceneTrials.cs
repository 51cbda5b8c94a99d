using System.Collections.Concurrent;
using System.Diagnostics;
using System.Globalization;
using Pairbench.Footwear.Tests.Underfoot;
using Pairbench.Footwear.Underfoot;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Regions;
using Pairbench.Imaging.Tests.Scenes;

namespace Pairbench.Benchmarks.Underfoot;

/// <summary>Examines made-up soles and prints error, stated interval and doubts of each, then a summary.</summary>
internal static class SceneTrials
{
    public static void Run(int from, int to, string[] modes)
    {
        var results = new ConcurrentDictionary<(string, int), (double Error, double Interval, bool Held)>();
        Parallel.For(from, to, new ParallelOptions { MaxDegreeOfParallelism = 2 }, n =>
        {
            var scene = TreadSceneGenerator.Draw(n);
            var mapping = PlaneMapping.Of(SceneExamination.Scale(scene), "sole.png", scene.Photo.Size, CameraFacts.Unknown);
            var surface = SurfacePicture.Of(scene.Photo, new WorkingFrame(0, 0, 1), scene.Outline, scene.PixelsPerMm);
            foreach (var mode in modes.Length > 0 ? modes : ["dabs", "traced"])
            {
                var dabs = mode == "dabs";
                var map = RegionFinder.Find(surface, dabs ? scene.Dabs : scene.GrooveDabs, dabs ? [] : scene.Zones, scene.Outline, 0.34);
                results[(mode, n)] = Tell($"{mode} {n}", map, mapping, 100 * scene.Shares.GetValueOrDefault((byte)2), scene.Kind);
            }
        });
        Summarise(results);
    }

    /// <summary>The rendered soles of the repository, each with several hands that dab and trace.</summary>
    public static void Rendered(int from, int to, string[] modes)
    {
        var results = new ConcurrentDictionary<(string, int), (double Error, double Interval, bool Held)>();
        var soles = RenderedSole.All(RenderedSole.RootAbove(Directory.GetCurrentDirectory())).ToArray();
        Parallel.For(from * soles.Length, to * soles.Length, new ParallelOptions { MaxDegreeOfParallelism = 2 }, n =>
        {
            var sole = soles[n % soles.Length];
            foreach (var mode in modes.Length > 0 ? modes : ["dabs", "traced"])
            {
                var evidence = sole.Evidence(n / soles.Length, mode == "dabs");
                var mapping = PlaneMapping.Of(evidence.Photo.Scale!, "sole", sole.Photo.Size, sole.Photo.Camera);
                var perMm = 1 / Math.Sqrt(mapping.AreaOfPixel(new PixelPoint(evidence.Outline.Average(p => p.X), evidence.Outline.Average(p => p.Y))));
                var working = sole.Photo.Decode((int)(Math.Max(sole.Photo.Size.Width, sole.Photo.Size.Height) * SurfacePicture.WantedPixelsPerMm / perMm));
                var frame = new WorkingFrame(0, 0, (double)sole.Photo.Size.Width / working.Width);
                var surface = SurfacePicture.Of(working, frame, evidence.Outline, perMm / frame.Step);
                var map = RegionFinder.Find(
                    surface,
                    [.. evidence.Dabs.Select(d => new Dab((byte)d.Material, d.Path, d.RadiusPx))],
                    [.. evidence.Regions.Select(r => new Zone((byte)r.Material, r.Polygon, r.Touching))],
                    evidence.Outline,
                    mapping.ClickSigmaPx);
                results[(mode, n)] = Tell($"{mode} {n}", map, mapping, sole.TextileShare, sole.Name);
            }
        });
        Summarise(results);
    }

    /// <summary>Soles of a folder, each with several hands that dab and trace.</summary>
    public static void Exported(string folder, int from, int to, string[] modes)
    {
        var results = new ConcurrentDictionary<(string, int), (double Error, double Interval, bool Held)>();
        var files = Directory.EnumerateFiles(folder, "*.bin").Order(StringComparer.Ordinal).ToArray();
        Parallel.For(from * files.Length, to * files.Length, new ParallelOptions { MaxDegreeOfParallelism = 2 }, n =>
        {
            var sole = ExportedSole.Read(files[n % files.Length]);
            var mapping = PlaneMapping.Of(sole.Scale, "sole", sole.Photo.Size, CameraFacts.Unknown);
            foreach (var mode in modes.Length > 0 ? modes : ["dabs", "traced"])
            {
                var (outline, dabs, regions) = sole.Marks(n, mode == "dabs");
                var surface = SurfacePicture.Of(sole.Photo, new WorkingFrame(0, 0, 1), outline, sole.PixelsPerMm);
                var map = RegionFinder.Find(
                    surface,
                    [.. dabs.Select(d => new Dab((byte)d.Material, d.Path, d.RadiusPx))],
                    [.. regions.Select(r => new Zone((byte)r.Material, r.Polygon, r.Touching))],
                    outline,
                    mapping.ClickSigmaPx);
                results[(mode, n)] = Tell($"{mode} {sole.Name}", map, mapping, sole.TextileShare, "exported");
            }
        });
        Summarise(results);
    }

    private static (double Error, double Interval, bool Held) Tell(string which, RegionMap map, PlaneMapping mapping, double truth, string kind)
    {
        var areas = map.Measure(mapping.AreaOfPixel);
        var share = new GroundAreas(map, mapping, "sole", true, null).Figures().Single(f => f.Id == "share.textile").Measured;
        var interval = share.CoverageInterval();
        var k2 = map.Labels.IndexOf((byte)2);
        var total = areas.Touching.Sum();
        var families = areas.Doubts.GroupBy(d => d.Family).OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => string.Create(CultureInfo.InvariantCulture, $"{g.Key}={Math.Sqrt(g.Sum(d => Math.Pow(100 * (d.Change[k2] - (areas.Touching[k2] / total * d.Change.Sum())) / total, 2))):F4}"));
        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{which} error={share.Value - truth:F3} share={share.Value:F3} u={share.StandardUncertainty:F3} U={share.ExpandedUncertainty():F3} held={interval.Contains(truth)} cm={map.ContactMisfit:F4} lm={map.LabelMisfit:F4} fill={total / areas.Whole:F4} {string.Join(' ', families)} kind={kind.Replace(' ', '_')}"));
        return (share.Value - truth, share.ExpandedUncertainty(), interval.Contains(truth));
    }

    private static void Summarise(ConcurrentDictionary<(string, int), (double Error, double Interval, bool Held)> results)
    {
        foreach (var mode in results.GroupBy(r => r.Key.Item1))
        {
            var errors = mode.Select(r => Math.Abs(r.Value.Error)).Order().ToArray();
            var widths = mode.Select(r => r.Value.Interval).Order().ToArray();
            Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{mode.Key}: {errors.Length} scenes, error median {errors[errors.Length / 2]:F2} p95 {errors[errors.Length * 95 / 100]:F2} worst {errors[^1]:F2} points, interval holds the truth in {100.0 * mode.Count(r => r.Value.Held) / errors.Length:F1} %, U median {widths[widths.Length / 2]:F2} p95 {widths[widths.Length * 95 / 100]:F2} largest {widths[^1]:F2} points"));
        }
    }

    /// <summary>Time of the first answer on a picture and of each answer to a new dab.</summary>
    public static void Time(int from, int to)
    {
        var first = new List<double>();
        var again = new List<double>();
        var errors = new List<double>();
        for (var n = from - 1; n < to; n++)
        {
            // The size of the exported scenes.
            var scene = TreadSceneGenerator.Draw(n, 560 + (n % 5 * 60));
            var begin = Stopwatch.GetTimestamp();
            var surface = SurfacePicture.Of(scene.Photo, new WorkingFrame(0, 0, 1), scene.Outline, scene.PixelsPerMm);
            var middle = Stopwatch.GetTimestamp();
            var map = RegionFinder.Find(surface, scene.Dabs, [], scene.Outline, 0.34);
            var end = Stopwatch.GetTimestamp();
            if (n < from)
            {
                continue;
            }

            first.Add(Stopwatch.GetElapsedTime(begin, end).TotalSeconds);
            again.Add(Stopwatch.GetElapsedTime(middle, end).TotalSeconds);
            var areas = map.Touch(_ => 1);
            errors.Add(Math.Abs((100 * areas[map.Labels.IndexOf((byte)2)] / areas.Sum()) - (100 * scene.Shares[2])));
        }

        Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Pairbench: {first.Count} soles, median {Middle(first):F3} s, new dab {Middle(again):F3} s, share error median {Middle(errors):F2} worst {errors.Max():F2} points"));

        static double Middle(List<double> values) => values.Order().ElementAt(values.Count / 2);
    }
}

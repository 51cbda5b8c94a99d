using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using Pairbench.Footwear.Tests.Underfoot;
using Pairbench.Footwear.Underfoot;
using Pairbench.Imaging;
using Pairbench.Imaging.Geometry;
using Pairbench.Imaging.Regions;
using Pairbench.Imaging.Tests.Scenes;

namespace Pairbench.Benchmarks.Underfoot;

/// <summary>A sole with the marks of one hand, and the hand itself, which may be asked for more.</summary>
/// <param name="Truth">Share of the textile in the contact, in percent.</param>
internal sealed record Trial(
    string Name,
    string Kind,
    SurfacePicture Surface,
    PlaneMapping Mapping,
    ImmutableArray<PixelPoint> Outline,
    ImmutableArray<Dab> Dabs,
    ImmutableArray<Zone> Zones,
    double ClickSigmaPx,
    double Truth,
    TruthHand Hand);

/// <summary>Which marks a hand makes, and how many of the places that the examination asks for it dabs afterwards.</summary>
internal sealed record TrialModes(ImmutableArray<string> Marks, int Asked)
{
    /// <param name="words"><c>dabs</c>, <c>traced</c> or both, none being both; <c>asked N</c> for so many dabs more.</param>
    public static TrialModes Of(ReadOnlySpan<string> words)
    {
        var asked = words is [.., "asked", var count] ? int.Parse(count, CultureInfo.InvariantCulture) : 0;
        var marks = words is [.., "asked", _] ? words[..^2] : words;
        return new TrialModes(marks.IsEmpty ? ["dabs", "traced"] : [.. marks], asked);
    }
}

/// <summary>Examines made-up soles and prints error, stated interval and doubts of each, then a summary.</summary>
internal static class SceneTrials
{
    public static void Scenes(int from, int to, TrialModes modes) => Run(from, to, modes, n =>
    {
        var scene = TreadSceneGenerator.Draw(n);
        var mapping = PlaneMapping.Of(SceneExamination.Scale(scene), "sole.png", scene.Photo.Size, CameraFacts.Unknown);
        var surface = SurfacePicture.Of(scene.Photo, new WorkingFrame(0, 0, 1), scene.Outline, scene.PixelsPerMm);
        var hand = TruthHand.Of(scene);
        return dabs => new Trial(n.ToString(CultureInfo.InvariantCulture), scene.Kind, surface, mapping, scene.Outline, dabs ? scene.Dabs : scene.GrooveDabs, dabs ? [] : scene.Zones, 0.34, 100 * scene.Shares.GetValueOrDefault((byte)2), hand);
    });

    /// <summary>The rendered soles of the repository, each with several hands that dab and trace.</summary>
    public static void Rendered(int from, int to, TrialModes modes)
    {
        var soles = RenderedSole.All().ToArray();
        Run(from * soles.Length, to * soles.Length, modes, n => dabs =>
        {
            var sole = soles[n % soles.Length];
            var evidence = sole.Evidence(n / soles.Length, dabs);
            var mapping = PlaneMapping.Of(evidence.Photo.Scale!, "sole", sole.Photo.Size, sole.Photo.Camera);
            var perMm = 1 / Math.Sqrt(mapping.AreaOfPixel(new PixelPoint(evidence.Outline.Average(p => p.X), evidence.Outline.Average(p => p.Y))));
            var working = sole.Photo.Decode((int)(Math.Max(sole.Photo.Size.Width, sole.Photo.Size.Height) * SurfacePicture.WantedPixelsPerMm / perMm));
            var frame = new WorkingFrame(0, 0, (double)sole.Photo.Size.Width / working.Width);
            var surface = SurfacePicture.Of(working, frame, evidence.Outline, perMm / frame.Step);
            return new Trial(n.ToString(CultureInfo.InvariantCulture), sole.Name, surface, mapping, evidence.Outline, Dabs(evidence.Dabs), Zones(evidence.Regions), mapping.ClickSigmaPx, sole.TextileShare, sole.Hand);
        });
    }

    /// <summary>Soles of a folder, each with several hands that dab and trace.</summary>
    public static void Exported(string folder, int from, int to, TrialModes modes)
    {
        var files = Directory.EnumerateFiles(folder, "*.bin").Order(StringComparer.Ordinal).ToArray();
        Run(from * files.Length, to * files.Length, modes, n =>
        {
            var sole = ExportedSole.Read(files[n % files.Length]);
            var mapping = PlaneMapping.Of(sole.Scale, "sole", sole.Photo.Size, CameraFacts.Unknown);
            return dabs =>
            {
                var (outline, dabbed, regions) = sole.Marks(n, dabs);
                var surface = SurfacePicture.Of(sole.Photo, new WorkingFrame(0, 0, 1), outline, sole.PixelsPerMm);
                return new Trial(sole.Name, "exported", surface, mapping, outline, Dabs(dabbed), Zones(regions), mapping.ClickSigmaPx, sole.TextileShare, sole.Hand);
            };
        });
    }

    private static ImmutableArray<Dab> Dabs(ImmutableArray<DabOf> dabs) => [.. dabs.Select(d => new Dab((byte)d.Material, d.Path, d.RadiusPx))];

    private static ImmutableArray<Zone> Zones(ImmutableArray<RegionOf> regions) => [.. regions.Select(r => new Zone((byte)r.Material, r.Polygon, r.Touching))];

    /// <param name="draw">The sole of a number; then what a hand marks on it, with dabs alone or with traced zones.</param>
    private static void Run(int from, int to, TrialModes modes, Func<int, Func<bool, Trial>> draw)
    {
        var results = new ConcurrentDictionary<(string, int), (double Error, double Interval, bool Held)>();
        Parallel.For(from, to, new ParallelOptions { MaxDegreeOfParallelism = 2 }, n =>
        {
            var marked = draw(n);
            foreach (var marks in modes.Marks)
            {
                var trial = marked(marks == "dabs");
                var dabs = trial.Dabs;
                var map = Find(trial, dabs);
                var result = results[(marks, n)] = Tell($"{marks} {trial.Name}", map, trial);
                for (var asked = 1; asked <= modes.Asked; asked++)
                {
                    // A hand that cannot tell at a place goes on to the next; where it can tell nowhere the answer stays.
                    if (map.InDoubt(dabs).SelectMany(d => trial.Hand.Answer(d.Place)).Take(1).ToArray() is [var answer])
                    {
                        dabs = [.. dabs, .. Dabs([answer])];
                        map = Find(trial, dabs);
                        result = Tell($"{marks}+{asked} {trial.Name}", map, trial);
                    }

                    results[($"{marks}+{asked}", n)] = result;
                }
            }
        });
        Summarise(results);
    }

    private static RegionMap Find(Trial trial, ImmutableArray<Dab> dabs) => RegionFinder.Find(trial.Surface, dabs, trial.Zones, trial.Outline, trial.ClickSigmaPx);

    private static (double Error, double Interval, bool Held) Tell(string which, RegionMap map, Trial trial)
    {
        var (truth, kind) = (trial.Truth, trial.Kind);
        var areas = map.Measure(trial.Mapping.AreaOfPixel);
        var share = new GroundAreas(map, trial.Mapping, "sole", true, null).Figures().Single(f => f.Id == "share.textile").Measured;
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
        foreach (var mode in results.GroupBy(r => r.Key.Item1).OrderBy(g => g.Key, StringComparer.Ordinal))
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

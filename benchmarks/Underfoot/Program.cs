using System.Globalization;
using Pairbench.Benchmarks.Underfoot;
using Pairbench.Imaging.Regions;
using Pairbench.Imaging.Tests.Scenes;

if (args[0] == "export")
{
    Export.Write(args[1], int.Parse(args[2], CultureInfo.InvariantCulture), int.Parse(args[3], CultureInfo.InvariantCulture));
    return;
}

var from = int.Parse(args[0], CultureInfo.InvariantCulture);
var to = int.Parse(args[1], CultureInfo.InvariantCulture);
foreach (var mode in new[] { "dabs", "traced" })
{
var errors = new List<double>();
var good = new List<double>();
var mat = new List<double>();
for (var n = from; n < to; n++)
{
    var s = TreadSceneGenerator.Draw(n);
    var watch = System.Diagnostics.Stopwatch.StartNew();
    var surface = SurfacePicture.Of(s.Photo, new WorkingFrame(0, 0, 1), s.Outline, s.PixelsPerMm);
    var t1 = watch.ElapsedMilliseconds;
    var map = RegionFinder.Find(surface, mode == "dabs" ? s.Dabs : s.GrooveDabs, mode == "dabs" ? [] : s.Zones, s.Outline, 0.7 * 720 / 1500);
    var areas = map.Measure(_ => 1);
    var t2 = watch.ElapsedMilliseconds;
    double total = 0, textile = 0, right = 0, all = 0, mright = 0, mall = 0;
    var k2 = map.Labels.IndexOf((byte)2);
    for (var y = 0; y < surface.Height; y++)
    {
        for (var x = 0; x < surface.Width; x++)
        {
            var i = (y * surface.Width) + x;
            if (!surface.Inside[i]) continue;
            var p = surface.Frame.ToPhoto(new(x, y));
            var fi = ((int)p.Y * s.Photo.Width) + (int)p.X;
            var t = map.Touching.Values[i];
            total += t;
            textile += k2 >= 0 ? t * map.Material[k2].Values[i] : 0;
            all++;
            right += (t > 0.5) == (s.Coverage.Labels[fi] >= 2) ? 1 : 0;
            if (s.Truth.Labels[fi] > 0)
            {
                mall++;
                var best = 0;
                for (var k = 1; k < map.Material.Length; k++) if (map.Material[k].Values[i] > map.Material[best].Values[i]) best = k;
                mright += best < map.Labels.Length && map.Labels[best] == s.Truth.Labels[fi] ? 1 : 0;
            }
        }
    }
    var e = 100 * ((textile / total) - s.Shares.GetValueOrDefault((byte)2));
    var fam = string.Join(' ', areas.Doubts.GroupBy(d => d.Family).OrderBy(g => g.Key).Select(g => $"{g.Key}={Math.Sqrt(g.Sum(d => Math.Pow(100 * (d.Change[k2] - (areas.Touching[k2] / areas.Touching.Sum() * d.Change.Sum())) / areas.Touching.Sum(), 2))):F3}"));
    Console.WriteLine($"FIT {mode} {n} {e:F3} {100 * areas.Touching[k2] / areas.Touching.Sum():F2} cm={map.ContactMisfit:F3} lm={map.LabelMisfit:F3} {fam}");
    errors.Add(Math.Abs(e)); good.Add(right / all); mat.Add(mright / mall);
    Console.WriteLine($"{n} {mode} error {e:F2} of {100 * s.Shares.GetValueOrDefault((byte)2):F1} contact {right / all:F3} fraction {total / all - s.TouchingFraction:F3} material {mright / mall:F3} {t1} + {t2 - t1} ms {s.Kind}");
}
errors.Sort();
Console.WriteLine($"== {mode} median {errors[errors.Count / 2]:F2} p90 {errors[errors.Count * 9 / 10]:F2} worst {errors[^1]:F2} contact {good.Average():F3} material {mat.Average():F3}");
}

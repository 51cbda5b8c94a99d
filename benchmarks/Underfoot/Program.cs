using Pairbench.Imaging.Regions;
using Pairbench.Imaging.Tests.Scenes;
if (args[0] == "export") { Pairbench.Benchmarks.Underfoot.Export.Write(args[1], int.Parse(args[2]), int.Parse(args[3])); return; }

var from = int.Parse(args[0], System.Globalization.CultureInfo.InvariantCulture);
var to = int.Parse(args[1], System.Globalization.CultureInfo.InvariantCulture);
var all = new List<(double Lda, double Zone)>();
for (var n = from; n < to; n++)
{
    var s = TreadSceneGenerator.Draw(n);
    int w = s.Photo.Width, h = s.Photo.Height;
    var inside = Raster.Fill(s.Outline, w, h);
    var watch = System.Diagnostics.Stopwatch.StartNew();
    var f = SurfaceFeatures.Of(s.Photo, inside, s.PixelsPerMm);
    var t1 = watch.ElapsedMilliseconds;
    var samples = new List<(int, int, float)>();
    foreach (var d in s.Dabs)
    {
        var px = Raster.Stroke(d.Path, d.RadiusPx, w, h);
        foreach (var p in px) samples.Add((p, d.Label == 0 ? 0 : 1, 1f / px.Length));
    }
    var spread = Spread(f.Relief, inside);
    var lda = Discriminant.Of(f.Relief, samples, spread, [0.3, 0.7], 0.3);
    var s0 = lda.Score(f.Relief, 1) - lda.Score(f.Relief, 0);
    var pu = new List<(int, int, float)>(samples.Where(x => x.Item2 == 0));
    for (var i = 0; i < inside.Length; i += 7) if (inside[i]) pu.Add((i, 1, 1e-3f));
    var lpu = Discriminant.Of(f.Relief, pu, spread, [0.3, 0.7], 0.3);
    var s1 = lpu.Score(f.Relief, 1) - lpu.Score(f.Relief, 0);
    Console.WriteLine($"{n} auc dabs {Auc(s0):F3} pu {Auc(s1):F3} feat {t1} ms  {s.Kind} touch {s.TouchingFraction:F2}");
    all.Add((Auc(s0), Auc(s1)));
    double Auc(Plane p)
    {
        var pts = new List<(float, bool)>();
        for (var i = 0; i < inside.Length; i += 5) if (inside[i]) pts.Add((p.Values[i], s.Truth.Labels[i] > 0));
        pts.Sort((a, b) => a.Item1.CompareTo(b.Item1));
        double neg = 0, sum = 0, pos = 0;
        foreach (var (_, y) in pts) { if (y) { pos++; sum += neg; } else neg++; }
        return sum / Math.Max(1, neg * pos);
    }
}
Console.WriteLine($"mean {all.Average(a => a.Lda):F3} {all.Average(a => a.Zone):F3}");
static double[] Spread(Plane[] f, bool[] inside) => [.. f.Select(p =>
{
    double s = 0, q = 0; var c = 0;
    for (var i = 0; i < inside.Length; i += 3) if (inside[i]) { s += p.Values[i]; q += p.Values[i] * p.Values[i]; c++; }
    return Math.Sqrt(Math.Max(1e-8, (q / c) - (s / c * (s / c))));
})];

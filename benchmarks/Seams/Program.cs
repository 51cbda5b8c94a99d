using System.Diagnostics;
using System.Globalization;
using Pairbench.Benchmarks.Seams;
using Pairbench.Imaging.Photographs;
using Pairbench.Imaging.Rows;
using Pairbench.Imaging.Tests.Scenes;

// Made-up rows of stitches, each found anew: one line for those that are wrong, then a summary. With a file name, the first is written as picture and evidence.
CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
if (args is ["lessons", var first, var end, var file])
{
    Lessons.Write(int.Parse(first, CultureInfo.InvariantCulture), int.Parse(end, CultureInfo.InvariantCulture), file);
    return;
}

if (args is ["places", var firstShown, var endShown])
{
    Places.Write(int.Parse(firstShown, CultureInfo.InvariantCulture), int.Parse(endShown, CultureInfo.InvariantCulture));
    return;
}

IEnumerable<RowPicture> rows;
if (args is ["rendered", var folder])
{
    rows = RowPicture.In(folder);
}
else
{
    int from = int.Parse(args[0], CultureInfo.InvariantCulture), to = int.Parse(args[1], CultureInfo.InvariantCulture);
    if (args.Length > 2)
    {
        var shown = RowSceneGenerator.Make(from);
        File.WriteAllBytes(args[2], PictureWriter.Png(shown.Picture));
        static string Points(IEnumerable<Pairbench.Imaging.PixelPoint> points) => string.Join(", ", points.Select(p => $"[{p.X:0.0}, {p.Y:0.0}]"));
        File.WriteAllText(
            Path.ChangeExtension(args[2], ".json"),
            $$"""{ "photo": { "file": "{{Path.GetFileName(args[2])}}", "scale": { "kind": "scan", "dpi": {{25.4 / shown.MmPerPx:0.###}} } }, "rows": [ { "id": "toe-cap", "path": [{{Points(shown.Path)}}], "edge": [{{Points(shown.Edge)}}] } ] }""");
    }

    rows = Enumerable.Range(from, to - from).Select(RowSceneGenerator.Make).Select(s => new RowPicture(s, RowScore.Scale(s)));
}

var scores = new List<RowScore>();
var clock = new Stopwatch();
foreach (var (scene, map) in rows)
{
    clock.Start();
    var found = RowFinder.Find(scene.Picture, map, scene.Path);
    clock.Stop();
    var score = RowScore.Of(scene, found);
    scores.Add(score);
    if (Math.Abs(score.PitchError) > 0.005 || score.Hits < score.True || score.False > 0 || score.Gaps < score.Missing || score.FalseGaps > 0 || Math.Abs(score.WanderError) > 0.08)
    {
        Console.WriteLine($"{scene.Kind}: pitch {100 * score.PitchError:+0.00;-0.00} %, found {score.Hits}/{score.True} false {score.False}, missing {score.Gaps}/{score.Missing} false {score.FalseGaps}, wander {score.WanderError:+0.000;-0.000} mm of {scene.WanderMm:0.000}, explained {found?.Explained ?? 0:0.00}");
    }
}

double gaps = scores.Sum(s => s.Gaps), toldGaps = gaps + scores.Sum(s => s.FalseGaps), trueGaps = scores.Sum(s => s.Missing);
Console.WriteLine($"{scores.Count} rows, {clock.Elapsed.TotalSeconds / scores.Count:0.000} s each");
Console.WriteLine($"pitch within 0.5 %: {scores.Count(s => Math.Abs(s.PitchError) <= 0.005)} of {scores.Count}; worst {100 * scores.Max(s => Math.Abs(s.PitchError)):0.00} %");
Console.WriteLine($"found {scores.Sum(s => s.Hits) / (double)scores.Sum(s => s.True):0.0000}, false {scores.Sum(s => s.False) / (double)scores.Sum(s => s.Hits + s.False):0.0000}");
Console.WriteLine($"missing stitches: F1 {(trueGaps + toldGaps > 0 ? 2 * gaps / (trueGaps + toldGaps) : 1):0.000} of {trueGaps}");
Console.WriteLine($"wander within 0.08 mm: {scores.Count(s => Math.Abs(s.WanderError) <= 0.08)} of {scores.Count}; RMS of the error {Math.Sqrt(scores.Average(s => s.WanderError * s.WanderError)):0.000} mm");

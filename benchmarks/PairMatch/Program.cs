using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using Pairbench.Footwear.PairMatch;
using Pairbench.Footwear.Shapes;
using Pairbench.Footwear.Tests.PairMatch;
using Pairbench.Measuring;

// Random pairs of shoes before a simulated camera: errors of differences, how often the stated interval holds the truth, and the time of laying one shoe on the other.
CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
var scenes = args.Length > 0 ? int.Parse(args[0], CultureInfo.InvariantCulture) : 2000;
var catalogue = ShapeReader.Read<LandmarkCatalogue>(ShapeReader.Parse(File.ReadAllBytes(args.Length > 1 ? args[1] : "../../data/pair-match/landmarks.json"), "landmarks"), "landmarks", out _);
var lengths = new BenchLengths(catalogue);
ImmutableArray<(string Id, string From, string To, string Along)> features =
[
    ("length", "toe-tip", "heel-back", "x"), ("toe-cap-side", "toe-tip", "toe-cap-edge", "x"), ("eyestay-length", "eyelet-first", "eyelet-last", "straight"),
    ("back-height", "back-foot", "back-top", "y"), ("tape-height-joint", "tape-foot-joint", "tape-top-joint", "y"), ("vamp", "toe-tip", "throat", "straight"),
];

Console.WriteLine($"{features.Length} differences of each pair of shoes, 0.1 mm per pixel, clicks of 1.5 px three times");
Show("depths drawn, turn of 1 degree, stated", scenes, turn: 1, stated: 1, depths: 1, solve: false);
Show("depths drawn, turn of 1 degree, solved", scenes, turn: 1, stated: 1, depths: 1, solve: true);
Show("depth and turn known", scenes / 4, turn: 0, stated: 0, depths: 0, solve: false);
Show("depths drawn, no turn, none stated", scenes / 4, turn: 0, stated: 0, depths: 1, solve: false);
Show("depths drawn, turn of 0.3 degrees, solved with 1 stated", scenes / 4, turn: 0.3, stated: 1, depths: 1, solve: true);
Show("depths drawn, turn of 2 degrees, 1 stated", scenes / 4, turn: 2, stated: 1, depths: 1, solve: false);
Show("depths drawn, turn of 2 degrees, solved with 1 stated", scenes / 4, turn: 2, stated: 1, depths: 1, solve: true);
Show("depths known, no turn at all, 1 stated", scenes / 4, turn: 0, stated: 1, depths: 0, solve: false);
Show("depths known, no turn at all, solved with 1 stated", scenes / 4, turn: 0, stated: 1, depths: 0, solve: true);
Time();

void Show(string what, int pairs, double turn, double stated, double depths, bool solve)
{
    var found = Enumerable.Range(5000, pairs).AsParallel().AsOrdered().SelectMany(seed => lengths.Differences(new BenchScene(seed, turn, depths), features, stated, solve).Select((d, i) => (Feature: i, d.Difference, d.Truth))).ToArray();
    double Rms(IEnumerable<(int Feature, Measured Difference, double Truth)> of) => Math.Sqrt(of.Average(d => Math.Pow(d.Difference.Value - d.Truth, 2)));
    double Holds(IEnumerable<(int Feature, Measured Difference, double Truth)> of) => 100 * of.Average(d => d.Difference.CoverageInterval().Contains(d.Truth) ? 1.0 : 0);
    Console.WriteLine($"{what}, {pairs} pairs: RMS {Rms(found):0.000} mm, intervals hold {Holds(found):0.0} %");
    Console.WriteLine($"    {string.Join("  ", features.Select((f, i) => found.Where(d => d.Feature == i).ToArray() is var of ? $"{f.Id} {Rms(of):0.00} mm {Holds(of):0.0} %" : ""))}");
}

// The same landmarks go to a file for the reference.
void Time()
{
    var all = Enumerable.Range(0, 200).Select(seed => lengths.Pairs(new BenchScene(seed, 1), 1)).ToArray();
    File.WriteAllText("pairs.json", JsonSerializer.Serialize(all.Select(pairs => new
    {
        Bend = MirrorFit.Of(pairs).BendMm,
        Places = pairs.Select(p => new[] { p.Left.X.Value, p.Left.Y.Value, -p.Right.X.Value, p.Right.Y.Value }),
    })));
    var best = double.PositiveInfinity;
    for (var run = 0; run < 5; run++)
    {
        var started = Stopwatch.GetTimestamp();
        foreach (var pairs in all)
        {
            MirrorFit.Of(pairs);
        }

        best = Math.Min(best, Stopwatch.GetElapsedTime(started).TotalMilliseconds / all.Length);
    }

    Console.WriteLine($"mirrored right shoe laid on the left one, with the budget of every residual: {best:0.000} ms; size of the first five {string.Join(" ", all.Take(5).Select(p => $"{1 + (MirrorFit.Of(p).SizePercent / 100):0.00000}"))}");
}

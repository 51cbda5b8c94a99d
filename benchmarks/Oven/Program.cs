using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using Pairbench.Footwear.Oven;

// Three hours through eight layers: the time of one run, and the temperatures at its end for a comparison with another integrator.
ImmutableArray<SlabLayer> layers = [
    new(0.0025, 0.18, 1150 * 1700), new(0.0004, 0.18, 1150 * 1700), new(0.001, 0.07, 500 * 1350), new(0.0005, 0.07, 500 * 1150),
    new(0.0015, 0.045, 200 * 1150), new(0.002, 0.1, 550 * 1400), new(0.003, 0.075, 400 * 1700), new(0.008, 200, 2700 * 900)];
var slab = new Slab(layers, new SlabFace.ProgrammeAir(31), new SlabFace.Insulated(), 23, [new(1800, 23, 105), new(1200, 105, 105), new(300, 105, 120), new(5700, 120, 120), new(1800, 120, 40)]);
var times = new List<double>();
var steps = 0;
double[] last = [];
for (var i = 0; i < 60; i++)
{
    var watch = Stopwatch.StartNew();
    steps = SlabHeating.Run(slab, (in SlabStep s) => last = s.After.ToArray()).Steps.Sum(s => s.Length);
    times.Add(watch.Elapsed.TotalMilliseconds);
}

Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"ms {times.Skip(10).Order().ElementAt(25):0.000} steps {steps} cells {layers.Length * slab.CellsPerLayer} outer {last[0]:0.0000} inner {last[^1]:0.0000}"));

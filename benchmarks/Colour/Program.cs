using System.Diagnostics;
using System.Globalization;
using System.Runtime.InteropServices;
using Pairbench.Imaging.Colour;

// Times CIEDE2000 over the pair of pictures that reference.py wrote, checks it against reference.py's result, and prints the ratio.
var folder = args[0];
var reference = double.Parse(args[1], CultureInfo.InvariantCulture);
var first = Read("first.bin");
var second = Read("second.bin");
var expected = MemoryMarshal.Cast<byte, double>(File.ReadAllBytes(Path.Combine(folder, "expected.bin"))).ToArray();
var result = new double[first.Length];
var seconds = Enumerable.Range(0, 7).Select(_ =>
{
    var clock = Stopwatch.StartNew();
    Ciede2000.BetweenAll(first, second, result);
    return clock.Elapsed.TotalSeconds;
}).Order().ToArray();
var single = Stopwatch.StartNew();
Ciede2000.Between(first, second, result);
var alone = single.Elapsed.TotalSeconds;
var worst = expected.Zip(result, (a, b) => Math.Abs(a - b)).Max();
Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"Pairbench: {first.Length / 1e6:0} megapixels in {seconds[3]:0.000} s on {Environment.ProcessorCount} processors (median of 7), {alone:0.000} s on one; largest deviation {worst:0.0e0}"));
Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"ratio to scikit-image: {reference / seconds[3]:0.0} times, {reference / alone:0.0} times on one processor"));

Lab[] Read(string file) => MemoryMarshal.Cast<byte, Lab>(File.ReadAllBytes(Path.Combine(folder, file))).ToArray();

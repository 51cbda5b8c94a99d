using System.Text.Json;
using Pairbench.Imaging.Regions;

namespace Pairbench.Reference.Imaging;

/// <summary>Repeats of a tread against NumPy 1.24.2 and SciPy 1.10.1 (ndimage.uniform_filter), which compare shift by shift without a transform; <c>data/repeats.py</c> made the values.</summary>
public sealed class TreadRepeatsTests
{
    private static readonly JsonElement Values = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Imaging", "data", "repeats.json"))).RootElement;

    private static readonly double PixelsPerMm = Values.GetProperty("pixelsPerMm").GetDouble();

    private static readonly Plane Mask = Plane("mask");

    [Fact]
    public void StepsAreWhereItIsMostLikeItself()
    {
        var odds = Plane("logOdds");
        var touching = odds.Map(z => 1 / (1 + MathF.Exp(-z)));
        var mean = (touching * Mask).Values.Sum() / Mask.Values.Sum();
        var steps = TreadRepeats.StepsOf(touching.With(Mask, (v, m) => (v - mean) * m), Mask, PixelsPerMm);

        Assert.Equal(Values.GetProperty("steps").EnumerateArray().Select(s => (s[0].GetInt32(), s[1].GetInt32())), steps);
        var like = Values.GetProperty("like").EnumerateObject().ToDictionary(l => l.Name, l => l.Value.GetDouble());
        double Like(int dx, int dy) => dy < 0 ? Like(-dx, -dy) : like[$"{dx},{dy}"];
        Assert.All(steps, s =>
        {
            Assert.True(Like(s.Dx, s.Dy) > 0.15, $"{s}");
            Assert.All(
                Enumerable.Range(-1, 3).SelectMany(j => Enumerable.Range(-1, 3).Select(i => (X: s.Dx + i, Y: s.Dy + j))).Where(n => Math.Abs(n.X) <= 54 && Math.Abs(n.Y) < 54),
                n => Assert.True(Like(n.X, n.Y) < Like(s.Dx, s.Dy) + 0.03, $"{s}: {Like(s.Dx, s.Dy)} beside {n}: {Like(n.X, n.Y)}"));
        });
        // The first two steps of the pattern as it was drawn.
        Assert.Contains((10, 3), steps);
        Assert.Contains((-2, 9), steps);
    }

    [Fact]
    public void WhatIsToldIsTheSame()
    {
        var repeats = TreadRepeats.Of(Plane("logOdds"), Mask, PixelsPerMm);
        Assert.All(Plane("told").Values.Zip(repeats.Told.Values), v => Assert.Equal(v.First, v.Second, 2e-3));
        Assert.All(Plane("alike").Values.Zip(repeats.Alike.Values), v => Assert.Equal(v.First, v.Second, 2e-3));
        Assert.True(repeats.Alike.Values.Max() > 0.5);
    }

    private static Plane Plane(string name) =>
        new(Values.GetProperty("width").GetInt32(), Values.GetProperty("height").GetInt32(), [.. Values.GetProperty(name).EnumerateArray().Select(v => v.GetSingle())]);
}

using System.Collections.Concurrent;
using System.Globalization;
using Pairbench.Imaging.Tests.Scenes;

namespace Pairbench.Footwear.Tests.Underfoot;

/// <summary>Two hundred made-up soles, none of which taught the network or its doubts.</summary>
public sealed class UnderfootSceneTests
{
    private const int First = 1000;
    private const int Count = 200;

    [Fact]
    public void The_stated_interval_holds_the_true_share()
    {
        var results = new ConcurrentBag<(bool DabsAlone, double Error, bool Held)>();
        Parallel.For(First, First + Count, n =>
        {
            var scene = TreadSceneGenerator.Draw(n);
            var truth = 100 * scene.Shares.GetValueOrDefault((byte)2);
            foreach (var dabsAlone in (bool[])[true, false])
            {
                try
                {
                    var share = SceneExamination.Examine(scene, dabsAlone).Figures.Single(f => f.Id == "share.textile").Measured;
                    results.Add((dabsAlone, Math.Abs(share.Value - truth), share.CoverageInterval().Contains(truth)));
                }
                catch (FaultsException)
                {
                    // The trembling hand crossed its own line; such soles are few, which the number examined below shows.
                }
            }
        });
        foreach (var way in results.GroupBy(r => r.DabsAlone))
        {
            var errors = way.Select(r => r.Error).Order().ToArray();
            var held = way.Count(r => r.Held) / (double)errors.Length;
            var words = string.Create(CultureInfo.InvariantCulture, $"{(way.Key ? "dabs alone" : "traced zones")}: {errors.Length} soles, median error {errors[errors.Length / 2]:F2} points, worst {errors[^1]:F1}, truth held in {100 * held:F1} %");
            Assert.True(errors.Length > 0.9 * Count, words);
            Assert.True(held is >= 0.91 and <= 0.99, words);
            Assert.True(errors[errors.Length / 2] < (way.Key ? 2 : 1.8), words);
        }
    }
}

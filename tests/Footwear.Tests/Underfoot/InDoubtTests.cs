using Pairbench.Footwear.Underfoot;
using Pairbench.Imaging;
using Pairbench.Imaging.Regions;
using Pairbench.Imaging.Tests.Scenes;

namespace Pairbench.Footwear.Tests.Underfoot;

/// <summary>Places at which the examination would have a dab.</summary>
public sealed class InDoubtTests
{
    private static readonly Lazy<TreadScene[]> Scenes = new(() => [.. Enumerable.Range(1, 5).Select(n => TreadSceneGenerator.Draw(n, 480))]);

    [Fact]
    public void They_lie_on_the_sole_and_nobody_is_asked_twice()
    {
        var asked = 0;
        foreach (var scene in Scenes.Value)
        {
            var evidence = SceneExamination.Evidence(scene, dabsAlone: true);
            var inside = Areas.Fill(scene.Outline, scene.Photo.Size);
            for (var round = 0; round < 3; round++)
            {
                var places = Places(SceneExamination.Examine(scene, evidence));
                asked += places.Length;
                Assert.InRange(places.Length, 0, 3);
                Assert.All(places, p => Assert.True(inside[((int)p.Y * scene.Photo.Width) + (int)p.X], $"{p} lies off the sole"));
                Assert.All(places, p => Assert.DoesNotContain(evidence.Dabs, d => d.Path.Any(q => q.DistanceTo(p) < d.RadiusPx - 1)));
                evidence = evidence with { Dabs = [.. evidence.Dabs, .. places.SelectMany(TruthHand.Of(scene).Answer)] };
            }
        }

        Assert.True(asked > 0, "no sole of five leaves anything in doubt");
    }

    [Fact]
    public void Where_everything_was_traced_as_touching_nothing_is_asked()
    {
        foreach (var scene in Scenes.Value)
        {
            var traced = SceneExamination.Evidence(scene, dabsAlone: false);
            Assert.Empty(Places(SceneExamination.Examine(scene, traced with { Regions = [.. traced.Regions.Select(r => r with { Touching = true })] })));
        }
    }

    [Fact]
    public void Of_traced_zones_only_the_contact_is_asked()
    {
        var asks = Scenes.Value.SelectMany(s => Rows(SceneExamination.Examine(s, dabsAlone: false))).Select(r => ((Cell.Text)r[1]).Words).ToArray();
        Assert.NotEmpty(asks);
        Assert.All(asks, a => Assert.Equal("does it touch?", a));
    }

    private static IEnumerable<IReadOnlyList<Cell>> Rows(Outcome outcome) => outcome.Tables.Where(t => t.Id == UnderfootExamination.InDoubt).SelectMany(t => t.Rows).Select(r => (IReadOnlyList<Cell>)r);

    private static PixelPoint[] Places(Outcome outcome) => [.. Rows(outcome).SelectMany(r => ((Cell.Places)r[2]).Points)];
}

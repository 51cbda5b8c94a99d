using Pairbench.Footwear.Underfoot;
using Pairbench.Imaging;
using Pairbench.Imaging.Regions;
using Pairbench.Imaging.Tests.Scenes;

namespace Pairbench.Footwear.Tests.Underfoot;

public sealed class UnderfootExaminationTests
{
    private static readonly TreadScene Scene = TreadSceneGenerator.Draw(1, 480);

    [Fact]
    public void Figures_follow_from_each_other()
    {
        var figures = SceneExamination.Examine(Scene, dabsAlone: true).Figures.ToDictionary(f => f.Id, f => f.Measured);
        Assert.Equal(100, figures.Where(f => f.Key.StartsWith("share.", StringComparison.Ordinal)).Sum(f => f.Value.Value), 6);
        Assert.Equal(figures["contact-area"].Value, figures.Where(f => f.Key.StartsWith("area.", StringComparison.Ordinal)).Sum(f => f.Value.Value), 3);
        Assert.Equal(100 * figures["area.textile"].Value / figures["contact-area"].Value, figures["share.textile"].Value, 6);
        Assert.Equal(Math.Abs(figures["share.rubber"].Value - figures["share.textile"].Value), figures["lead"].Value, 6);
        Assert.All(figures.Values, m => Assert.True(m.StandardUncertainty > 0));
        Assert.Contains(figures["share.textile"].Budget, c => c.Cause == "groove:sole.png");
        Assert.Contains(figures["share.textile"].Budget, c => c.Cause == "boundary:sole.png");
    }

    [Fact]
    public void Without_a_scale_there_are_shares_and_no_areas()
    {
        var evidence = SceneExamination.Evidence(Scene, dabsAlone: true);
        var scaled = SceneExamination.Examine(Scene, evidence).Figures.Single(f => f.Id == "share.textile").Measured;

        var outcome = SceneExamination.Examine(Scene, evidence with { Photo = evidence.Photo with { Scale = null } });

        Assert.All(outcome.Figures, f => Assert.Equal("%", f.Measured.Unit));
        var share = outcome.Figures.Single(f => f.Id == "share.textile").Measured;
        Assert.InRange(share.Value - scaled.Value, -3, 3);
        Assert.Contains(share.Budget, c => c.Cause == "tilt-x:sole.png");
        Assert.Contains(outcome.Assumptions, a => a.Contains("no scale", StringComparison.Ordinal));
    }

    [Fact]
    public void A_print_without_a_scale_has_nothing_to_give()
    {
        var evidence = SceneExamination.Evidence(Scene, dabsAlone: true);
        var fault = Assert.Throws<FaultsException>(() => SceneExamination.Examine(Scene, evidence with { Kind = UnderfootKind.Print, Dabs = default, Photo = evidence.Photo with { Scale = null } })).Faults.Single();
        Assert.Equal("photo.scale", fault.Where);
    }

    [Fact]
    public void The_same_evidence_gives_the_same_outcome()
    {
        var first = SceneExamination.Examine(Scene, dabsAlone: true);
        var second = SceneExamination.Examine(Scene, dabsAlone: true);
        Assert.Equal(first.Figures.Select(f => f.Measured.Value), second.Figures.Select(f => f.Measured.Value));
        Assert.Equal(first.Plates[0].Content.ToArray(), second.Plates[0].Content.ToArray());
    }

    [Fact]
    public void A_region_that_touches_keeps_its_grooves()
    {
        var traced = SceneExamination.Evidence(Scene, dabsAlone: false);
        var loses = Area(traced);
        var keeps = Area(traced with { Regions = [.. traced.Regions.Select(r => r with { Touching = true })] });
        var whole = Scene.TouchingAreaMm2 / Scene.TouchingFraction;
        Assert.InRange(keeps / whole, 0.97, 1.03);
        Assert.True(loses < keeps);
    }

    [Fact]
    public void A_clear_region_does_not_touch()
    {
        var traced = SceneExamination.Evidence(Scene, dabsAlone: false);
        var touching = traced with { Regions = [.. traced.Regions.Select(r => r with { Touching = true })] };
        var inlay = Scene.Zones[1];
        var without = touching with { Regions = touching.Regions.Add(new RegionOf(GroundMaterial.Clear, inlay.Polygon)) };
        Assert.True(Area(without) < 0.99 * Area(touching));
        var figures = SceneExamination.Examine(Scene, without).Figures;
        Assert.True(figures.Single(f => f.Id == "area.textile").Measured.Value < SceneExamination.Examine(Scene, touching).Figures.Single(f => f.Id == "area.textile").Measured.Value);
    }

    [Fact]
    public void What_touches_without_a_label_counts_as_other_and_widens()
    {
        var traced = SceneExamination.Evidence(Scene, dabsAlone: false);
        var textileOnly = traced with { Regions = [.. traced.Regions.Where(r => r.Material == GroundMaterial.Textile)] };
        var full = SceneExamination.Examine(Scene, traced).Figures.Single(f => f.Id == "share.textile").Measured;
        var outcome = SceneExamination.Examine(Scene, textileOnly);
        Assert.Contains(outcome.Figures, f => f.Id == "share.other" && f.Measured.Value > 20);
        Assert.True(outcome.Figures.Single(f => f.Id == "share.textile").Measured.ExpandedUncertainty() > full.ExpandedUncertainty());
        Assert.Contains(outcome.Cautions, c => c.Contains("bears no label", StringComparison.Ordinal));
    }

    [Fact]
    public void A_sole_cut_by_the_frame_is_not_whole()
    {
        var size = new PixelSize(Scene.Photo.Width, Scene.Photo.Height * 2 / 3);
        var half = new RgbImage(size, Scene.Photo.Pixels[..(size.Width * size.Height * 3)].ToArray());
        var evidence = SceneExamination.Evidence(Scene, dabsAlone: true);
        var kept = evidence with
        {
            Outline = [.. evidence.Outline.Select(p => p with { Y = Math.Min(p.Y, size.Height) })],
            Dabs = [.. evidence.Dabs.Where(d => d.Path.All(p => p.Y < size.Height))],
        };
        var outcome = SceneExamination.Examine(new MemoryPhotos(new MemoryPhoto(half, "sole.png")), kept);
        Assert.Contains(outcome.NotSeen, n => n is { Id: "whole-sole", Required: true });
        Assert.DoesNotContain(SceneExamination.Examine(Scene, dabsAlone: true).NotSeen, n => n.Id == "whole-sole");
    }

    [Fact]
    public void A_mirrored_print_gives_the_contact()
    {
        // The print of a made-up sole: black where it touches, mirrored, with a ruler and specks beside it.
        int width = Scene.Photo.Width, height = Scene.Photo.Height;
        var ink = new byte[width * height * 3];
        Array.Fill(ink, (byte)240);
        for (var y = 0; y < height; y++)
        {
            for (var x = 0; x < width; x++)
            {
                if (Scene.Truth[x, y] > 0)
                {
                    ink.AsSpan(((y * width) + (width - 1 - x)) * 3, 3).Fill(40);
                }
            }
        }

        for (var y = 10; y < 200; y++)
        {
            ink.AsSpan((y * width) * 3, 9).Fill(20);
        }

        var pictures = new MemoryPhotos(new MemoryPhoto(Scene.Photo, "sole.png"), new MemoryPhoto(new RgbImage(new PixelSize(width, height), ink), "print.png"));
        var traced = SceneExamination.Evidence(Scene, dabsAlone: false);
        var corners = new PixelPoint[] { new(60, 60), new(width - 60, 80), new(70, height - 60), new(width - 70, height - 90) };
        var outcome = SceneExamination.Examine(pictures, traced with { Print = new PrintOfSole(new PrintPicture("print.png"), [.. corners.Select(c => (System.Collections.Immutable.ImmutableArray<PixelPoint>)[c, new(width - c.X, c.Y)])], 700) });
        var share = outcome.Figures.Single(f => f.Id == "share.textile").Measured;
        var truth = 100 * Scene.Shares[2];
        Assert.InRange(share.Value, truth - 1, truth + 1);
        Assert.True(share.CoverageInterval().Contains(truth));
        Assert.InRange(outcome.Figures.Single(f => f.Id == "contact-area").Measured.Value, 0.97 * Scene.TouchingAreaMm2, 1.03 * Scene.TouchingAreaMm2);
        Assert.Contains(outcome.Assumptions, a => a.Contains("700 N", StringComparison.Ordinal));
        Assert.Empty(outcome.Tables);

        var alone = SceneExamination.Examine(pictures, new UnderfootEvidence(new EvidencePhoto("print.png", SceneExamination.Scale(Scene)), Kind: UnderfootKind.Print));
        var area = Assert.Single(alone.Figures);
        Assert.Equal("contact-area", area.Id);
        Assert.InRange(area.Measured.Value, 0.93 * Scene.TouchingAreaMm2, 1.07 * Scene.TouchingAreaMm2);
        Assert.Contains(area.Measured.Budget, c => c.Cause == "stepping:print.png");
    }

    [Fact]
    public void The_label_map_has_the_size_and_labels_of_the_contract()
    {
        var surface = SurfacePicture.Of(Scene.Photo, new WorkingFrame(0, 0, 1), Scene.Outline, Scene.PixelsPerMm);
        var labels = RegionFinder.Find(surface, Scene.GrooveDabs, Scene.Zones, Scene.Outline, 0.3).ToLabels(Scene.Photo.Size);
        Assert.Equal(Scene.Photo.Size, labels.Size);
        Assert.All(labels.Labels.ToArray().Distinct(), l => Assert.Contains(l, new byte[] { 0, 1, 2, 3, 4, 255 }));
        var agree = labels.Labels.ToArray().Zip(Scene.Truth.Labels.ToArray(), (a, b) => a == b).Count(same => same) / (double)labels.Labels.Length;
        Assert.True(agree > 0.88, $"{agree:F3} of the pixels bear the true label");
    }

    [Theory]
    [InlineData(11)]
    [InlineData(24)]
    [InlineData(36)]
    public void The_sole_is_found_against_the_bench(int number)
    {
        var scene = TreadSceneGenerator.Draw(number, 480);
        var found = SurfaceFinder.Find(scene.Photo, new WorkingFrame(0, 0, 1), scene.Dabs, []);
        double both = 0, either = 0;
        for (var i = 0; i < found.Inside.Count; i++)
        {
            var sole = scene.Material.Labels[i] > 0;
            both += sole && found.Inside[i] ? 1 : 0;
            either += sole || found.Inside[i] ? 1 : 0;
        }

        Assert.True(both / either > 0.93, $"overlap {both / either:F3}");
        Assert.False(found.ReachesFrame);
    }

    private static double Area(UnderfootEvidence evidence) => SceneExamination.Examine(Scene, evidence).Figures.Single(f => f.Id == "contact-area").Measured.Value;
}

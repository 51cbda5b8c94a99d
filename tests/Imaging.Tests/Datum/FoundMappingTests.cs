using Pairbench.Imaging.Datum;
using Pairbench.Imaging.Geometry;
using Pairbench.Measuring;

namespace Pairbench.Imaging.Tests.Datum;

/// <summary>What is known beside the picture and what it does to lengths and areas.</summary>
public sealed class FoundMappingTests
{
    private static readonly DatumScene Scene = new(6003, SceneKind.Sheet, new PixelSize(1200, 900), worstTilt: 12);

    private static readonly DatumFound Found = DatumFinder.Find(new SheetScale(), Scene.Photo);

    [Fact]
    public void AReadingOfTheCheckBarTakesThePlaceOfPaperAndPrinter()
    {
        var plain = Length(new SheetScale(ClickSigmaPx: 0));
        var read = Length(new SheetScale(CheckBarMm: Measured.Of(94.1, "mm", "rule", 0.05), CheckBarAcrossMm: Measured.Of(94.1, "mm", "rule", 0.05), ClickSigmaPx: 0));

        // A sheet fitted to a smaller page: everything on it is 0.941 of what it says.
        Assert.Equal(0.941, read.Value / plain.Value, 3);
        Assert.InRange(plain.StandardUncertainty, 0.15, 0.35);
        Assert.InRange(read.StandardUncertainty, 0.03, 0.12);
        Assert.Contains(read.Budget, c => c.Cause == "check-bar:scene.png");
    }

    [Fact]
    public void ALengthOnTheHeightOfAShoeIsRight()
    {
        var scale = new SheetScale(PlaneHeightMm: Measured.Of(60, "mm", "height", 0.5), FocalLengthPx: Scene.Camera.FocalPx, ScaleUncertaintyPct: 0, ClickSigmaPx: 0);
        var mapping = PlaneMapping.Of(scale, Scene.Photo);
        var (a, b) = (new PlanePoint(Scene.Middle.X - 50, Scene.Middle.Y), new PlanePoint(Scene.Middle.X + 50, Scene.Middle.Y));

        var length = mapping.Length(Scene.Camera.Picture(a, 60), Scene.Camera.Picture(b, 60), "ends");

        Assert.InRange(length.Value, 100 - (2 * length.StandardUncertainty) - 0.05, 100 + (2 * length.StandardUncertainty) + 0.05);
        Assert.Contains(length.Budget, c => c.Cause == "height" && Math.Abs(c.Value) > 0.02);
    }

    [Fact]
    public void A_print_that_is_named_is_one_cause_in_every_photograph_of_it()
    {
        Measured Of(string photo, string? sheet)
        {
            var mapping = PlaneMapping.Of(new SheetScale(ClickSigmaPx: 0, Sheet: sheet), Found, photo);
            return mapping.Length(Scene.Camera.Picture(new PlanePoint(Scene.Middle.X - 50, Scene.Middle.Y)), Scene.Camera.Picture(new PlanePoint(Scene.Middle.X + 50, Scene.Middle.Y)), $"ends:{photo}");
        }

        var (apart, one) = (Of("left.jpg", null) - Of("right.jpg", null), Of("left.jpg", "desk-1") - Of("right.jpg", "desk-1"));
        Assert.InRange(apart.StandardUncertainty, 0.2, 0.5);
        Assert.DoesNotContain(one.Budget, c => c.Cause.StartsWith("scale-", StringComparison.Ordinal) && Math.Abs(c.Value) > 1e-9);
        Assert.True(one.StandardUncertainty < 0.6 * apart.StandardUncertainty, $"{one.StandardUncertainty} of {apart.StandardUncertainty}");
        Assert.Contains(Of("left.jpg", "desk-1").Budget, c => c.Cause == "scale-x:desk-1");
    }

    [Fact]
    public void AreaAndMapsAgree()
    {
        var mapping = PlaneMapping.Of(new SheetScale(ScaleUncertaintyPct: 0, ClickSigmaPx: 0), Found, "scene.png");
        var corners = new[] { (-40, -30), (40, -30), (40, 30), (-40, 30) }.Select(c => Scene.Camera.Picture(new PlanePoint(Scene.Middle.X + c.Item1, Scene.Middle.Y + c.Item2))).ToArray();
        var pixel = corners[0];
        var (o, right, down) = (mapping.ToPlane(pixel), mapping.ToPlane(pixel + new PixelPoint(0.01, 0)), mapping.ToPlane(pixel + new PixelPoint(0, 0.01)));
        var measured = Math.Abs(((right.X - o.X) * (down.Y - o.Y)) - ((right.Y - o.Y) * (down.X - o.X))) / 1e-4;

        Assert.InRange(mapping.PolygonArea(corners, "corner").Value, 4790, 4810);
        Assert.Equal(1, mapping.AreaOfPixel(pixel) / measured, 4);
        Assert.InRange(mapping.ToPicture(o).DistanceTo(pixel), 0, 1e-6);
    }

    [Fact]
    public void WhatWasFoundIsSaid()
    {
        var mapping = PlaneMapping.Of(new SheetScale(), Found, "scene.png");

        Assert.Contains(mapping.Assumptions, a => a.StartsWith($"Found in scene.png: {Scene.Layout.Name}: corners", StringComparison.Ordinal));
        Assert.Contains(mapping.Assumptions, a => a.StartsWith("No check bar", StringComparison.Ordinal));
    }

    [Fact]
    public void ABarThatIsNoCheckBarIsRefused() =>
        Assert.Equal("checkBarMm", Assert.Throws<ScaleException>(() => PlaneMapping.Of(new SheetScale(CheckBarMm: Measured.Exact(10, "mm")), Scene.Photo)).Field);

    [Fact]
    public void TheFocalLengthFollowsFromTheView()
    {
        var tilted = new DatumScene(6011, SceneKind.Sheet, new PixelSize(1200, 900));
        var found = DatumFinder.Find(new SheetScale(ScaleUncertaintyPct: 0), tilted.Photo);

        Assert.InRange(found.FocalLengthPx, tilted.Camera.FocalPx - (3 * found.FocalUncertaintyPx), tilted.Camera.FocalPx + (3 * found.FocalUncertaintyPx));
    }

    private static Measured Length(SheetScale scale)
    {
        var mapping = PlaneMapping.Of(scale, Scene.Photo);
        return mapping.Length(Scene.Camera.Picture(new PlanePoint(Scene.Middle.X - 50, Scene.Middle.Y)), Scene.Camera.Picture(new PlanePoint(Scene.Middle.X + 50, Scene.Middle.Y)), "ends");
    }
}

using System.Collections.Immutable;
using Pairbench.Footwear.Underfoot;
using Pairbench.Imaging;
using Pairbench.Imaging.Tests.Scenes;

namespace Pairbench.Footwear.Tests.Underfoot;

public sealed class UnderfootFaultTests
{
    private static readonly TreadScene Scene = TreadSceneGenerator.Draw(3, 360);
    private static readonly UnderfootEvidence Good = SceneExamination.Evidence(Scene, dabsAlone: true);

    public static TheoryData<string, string> Wrong => new()
    {
        { "dab outside", "dabs[0].path" },
        { "crossing region", "regions[0].polygon" },
        { "flat region", "regions[0].polygon" },
        { "outline outside", "outline" },
        { "nothing named", "dabs" },
        { "clear but touching", "regions[0].touching" },
        { "print of a print", "print" },
        { "pairs on one line", "print.align" },
        { "pair of three", "print.align[1]" },
        { "pair outside", "print.align[0]" },
    };

    [Theory]
    [MemberData(nameof(Wrong))]
    public void Wrong_marks_are_named_on_one_line(string what, string where)
    {
        var faults = Assert.Throws<FaultsException>(() => Examine(Spoilt(what))).Faults;
        var fault = Assert.Single(faults.Select(f => f.Where).Distinct());
        Assert.Equal(where, fault);
        Assert.All(faults, f => Assert.DoesNotContain('\n', f.ToString()));
    }

    [Fact]
    public void Every_fault_is_told_at_once()
    {
        var outside = Good.Dabs[0] with { Path = [new PixelPoint(-5, 3)] };
        var faults = Assert.Throws<FaultsException>(() => Examine(Good with { Dabs = [outside, .. Good.Dabs, outside] })).Faults;
        Assert.Equal(["dabs[0].path", $"dabs[{Good.Dabs.Length + 1}].path"], faults.Select(f => f.Where));
    }

    private static UnderfootEvidence Spoilt(string what)
    {
        var inside = Scene.Zones[0].Polygon[0];
        ImmutableArray<PixelPoint> bow = [new(50, 50), new(120, 120), new(120, 50), new(50, 120)];
        ImmutableArray<PixelPoint> Pair(double x, double y) => [new(x, y), new(x, y)];
        PrintOfSole Print(params ImmutableArray<PixelPoint>[] align) => new(new PrintPicture("sole.png"), [.. align]);
        return what switch
        {
            "dab outside" => Good with { Dabs = Good.Dabs.SetItem(0, Good.Dabs[0] with { Path = [new PixelPoint(20, Scene.Photo.Height + 4)] }) },
            "crossing region" => Good with { Regions = [new RegionOf(GroundMaterial.Textile, bow)] },
            "flat region" => Good with { Regions = [new RegionOf(GroundMaterial.Textile, [new(50, 50), new(90, 90), new(70, 70)])] },
            "outline outside" => Good with { Outline = [new(-30, 5), new(100, 10), new(50, 200)] },
            "nothing named" => Good with { Dabs = [.. Good.Dabs.Where(d => d.Material == GroundMaterial.Clear)] },
            "clear but touching" => Good with { Regions = [new RegionOf(GroundMaterial.Clear, [new(50, 50), new(90, 50), new(90, 90)], true)] },
            "print of a print" => Good with { Kind = UnderfootKind.Print, Print = Print(Pair(1, 1), Pair(90, 9), Pair(9, 90), Pair(90, 90)) },
            "pairs on one line" => Good with { Print = Print(Pair(10, 10), Pair(20, 20), Pair(30, 30), Pair(40, 40)) },
            "pair of three" => Good with { Print = Print(Pair(10, 10), [inside, inside, inside], Pair(30, 90), Pair(90, 90)) },
            "pair outside" => Good with { Print = Print(Pair(10, 9999), Pair(90, 10), Pair(10, 90), Pair(90, 90)) },
            _ => throw new ArgumentOutOfRangeException(nameof(what)),
        };
    }

    private static void Examine(UnderfootEvidence evidence) => SceneExamination.Examine(Scene, evidence);
}

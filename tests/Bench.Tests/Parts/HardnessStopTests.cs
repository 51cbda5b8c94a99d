using Bunit;
using Microsoft.Extensions.DependencyInjection;
using Pairbench.Bench.Examinations.Hardness;
using Pairbench.Bench.Fields;
using Pairbench.Bench.Hosting;

namespace Pairbench.Bench.Tests.Parts;

public sealed class HardnessStopTests : BunitContext
{
    [Fact]
    public async Task A_spot_is_compared_with_another_by_choosing_it()
    {
        Services.AddSingleton(TemporaryShelf.Catalogue);
        Services.AddSingleton(new Plates());
        JSInterop.Mode = JSRuntimeMode.Loose;
        await using var opened = await OpenedSheet.OpenAsync("""
            , "evidence": { "hardness": [{ "id": "main", "spots": [
              { "id": "left", "scale": "ShoreA", "readings": [60, 61, 60, 62, 60], "surface": "bare" },
              { "id": "right", "scale": "ShoreA", "readings": [64, 65, 64, 66, 64], "surface": "bare" }] }] }
            """);
        var stop = Render<HardnessStop>(p => p.Add(s => s.Sheet, opened.Sheet));
        Assert.DoesNotContain(stop.FindComponents<Field>(), f => f.Instance.Label.StartsWith("Compared spots", StringComparison.Ordinal));
        var compared = stop.FindComponents<Field>().Single(f => f.Instance.Path == "evidence/hardness/0/spots/0/against/0");
        Assert.Equal(["", "right"], compared.FindAll("option").Select(o => o.GetAttribute("value")));

        compared.Find("select").Change("right");
        stop.Render();
        await opened.SettledAsync();

        Assert.Contains(opened.Sheet.OutcomeOf("hardness", "main")!.Figures, f => f.Id == "left..right.difference");
        Assert.Contains(stop.FindComponents<Field>(), f => f.Instance.Label.StartsWith("Compared spots", StringComparison.Ordinal));
    }
}

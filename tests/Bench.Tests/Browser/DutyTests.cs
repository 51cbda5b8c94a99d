using System.Globalization;
using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Pairbench.Imaging;
using Pairbench.Imaging.Photographs;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Browser;

[Collection(BrowserTests.Name)]
public sealed class DutyTests(BenchFixture bench)
{
    private const int Heel = 100;
    private const int Toe = 700;

    /// <summary>Three materials: felt leads with 45 %, then rubber does; leather keeps 20 %. FOB 10.00: 7.5 % is 0.75, and 0.90 and 20 % are 2.90.</summary>
    [Theory]
    [InlineData(0.45, 0.35, "6404.19.82", "textile has the greatest contact", "landed 10.75 USD")]
    [InlineData(0.35, 0.45, "6404.19.89", "rubber-plastics has the greatest contact", "landed 12.90 USD")]
    public async Task The_share_measured_underfoot_decides_line_sentence_and_cost(double textile, double rubber, string line, string sole, string landed)
    {
        await using var opened = await bench.OpenAsync($"reviews/{await SoleReviewAsync(textile, rubber)}?open=trade");
        var duty = opened.Page.GetByRole(AriaRole.Region, new() { Name = "Duty, main" });
        await Assertions.Expect(duty.Locator(".sentence")).ToContainTextAsync(line, new() { Timeout = 60_000 });
        await Assertions.Expect(duty.Locator(".end")).ToContainTextAsync(line);
        await Assertions.Expect(duty.Locator(".sole")).ToContainTextAsync(sole);
        await Assertions.Expect(opened.Page.Locator("svg.column")).ToHaveAttributeAsync("aria-label", new Regex(landed));
        await Assertions.Expect(duty.Locator(".threshold").First).ToContainTextAsync("in ground contact");
        Assert.Empty(opened.Errors);
    }

    [Fact]
    public async Task A_lead_moved_over_zero_changes_branch_sentence_and_cost_and_an_even_one_forks()
    {
        await using var opened = await bench.OpenAsync($"reviews/{await TypedReviewAsync()}?open=trade");
        var page = opened.Page;
        var duty = page.GetByRole(AriaRole.Region, new() { Name = "Duty, main" });
        var column = page.Locator("svg.column");
        await Assertions.Expect(duty.Locator(".sentence")).ToContainTextAsync("6404.19.82");
        await Assertions.Expect(column).ToHaveAttributeAsync("aria-label", new Regex("landed 10.75 USD"));

        await duty.GetByText("Shares of the ground contact").ClickAsync();
        await TypeAsync(duty, "Textile", "35");
        await TypeAsync(duty, "Rubber or plastics", "45");
        await Assertions.Expect(duty.Locator(".sentence")).ToContainTextAsync("6404.19.89");
        await Assertions.Expect(duty.Locator(".end")).ToContainTextAsync("2.90 USD");
        await Assertions.Expect(duty.Locator(".sole")).ToContainTextAsync("rubber-plastics has the greatest contact, ahead of textile");
        await Assertions.Expect(column).ToHaveAttributeAsync("aria-label", new Regex("landed 12.90 USD"));

        await TypeAsync(duty, "Textile", "40");
        await TypeAsync(duty, "Rubber or plastics", "40");
        await Assertions.Expect(duty.Locator(".branches li")).ToHaveCountAsync(2);
        await Assertions.Expect(duty.Locator(".sentence")).ToContainTextAsync("Undecided");
        Assert.Empty(opened.Errors);
    }

    [Fact]
    public async Task An_optional_group_that_is_emptied_leaves_no_fault()
    {
        var id = await TypedReviewAsync();
        await using var opened = await bench.OpenAsync($"reviews/{id}?open=trade");
        var duty = opened.Page.GetByRole(AriaRole.Region, new() { Name = "Duty, main" });
        await duty.GetByText("Known facts of the shoe").ClickAsync();
        await duty.GetByLabel("Printed lines on the upper, of").SelectOptionAsync("leather");
        await duty.GetByLabel("Smallest size").FillAsync("8");
        await duty.GetByLabel("Largest size", new() { Exact = true }).FillAsync("11");
        var faults = opened.Page.Locator(".fault");
        foreach (var label in new[] { "Printed on", "American sizes of" })
        {
            var field = duty.Locator(".field", new() { Has = opened.Page.GetByLabel(label, new() { Exact = true }) });
            await Assertions.Expect(field.Locator(".fault", new() { HasTextString = "is missing" })).ToHaveCountAsync(1);
        }

        await Assertions.Expect(faults.GetByText("things above are to be put right.")).ToBeVisibleAsync();

        await duty.GetByLabel("Printed lines on the upper, of").SelectOptionAsync("");
        await duty.GetByLabel("Smallest size").FillAsync("");
        await duty.GetByLabel("Largest size", new() { Exact = true }).FillAsync("");
        await Assertions.Expect(faults).ToHaveCountAsync(0);
        await opened.SavedAsync();

        var facts = JsonNode.Parse((await bench.Shelf.ReadAsync(id))!.Document)!["evidence"]!["duty"]!["facts"]!;
        Assert.Null(facts["upper"]!["printedLines"]);
        Assert.Null(facts["sizes"]);
        Assert.Empty(opened.Errors);
    }

    [Theory]
    [InlineData(ColorScheme.Light, 1440)]
    [InlineData(ColorScheme.Dark, 390)]
    public async Task The_worksheet_reads_well_for_everyone(ColorScheme scheme, int width)
    {
        await using var opened = await bench.OpenAsync($"reviews/{await TypedReviewAsync()}?open=trade", width, scheme, touch: width < 500);
        await Assertions.Expect(opened.Page.Locator(".threshold").First).ToBeVisibleAsync();
        Assert.Empty(await opened.BarriersAsync());
        Assert.False(await opened.ScrollsSidewaysAsync());
        Assert.Empty(opened.Errors);
    }

    private static async Task TypeAsync(ILocator duty, string label, string typed)
    {
        var field = duty.GetByLabel(label, new() { Exact = false }).First;
        await field.FillAsync(typed);
        await field.PressAsync("Enter");
    }

    private async Task<string> TypedReviewAsync() =>
        (await bench.Shelf.CreateAsync(Review("", """{ "textile": 45, "rubber-plastics": 35, "leather": 20 }"""))).Id;

    private async Task<string> SoleReviewAsync(double textile, double rubber)
    {
        var inlay = Heel + (int)((Toe - Heel) * textile);
        var tread = inlay + (int)((Toe - Heel) * rubber);
        var stored = await bench.Shelf.CreateAsync("""{ "format": "pairbench-review/1", "style": { "name": "Led" }, "build": { "label": "one" } }""");
        using (var picture = new MemoryStream(Scan(inlay, tread)))
        {
            await bench.Shelf.AttachAsync(stored.Id, "scan.png", picture);
        }

        var underfoot = $$"""
            "underfoot": [{ "id": "left", "side": "left", "kind": "sole", "photo": { "file": "scan.png", "scale": { "kind": "scan", "dpi": 100 } }, "outline": {{Box(Heel, Toe)}},
              "regions": [{ "material": "textile", "polygon": {{Box(Heel, inlay)}}, "touching": true }, { "material": "rubber", "polygon": {{Box(inlay, tread)}}, "touching": true }, { "material": "leather", "polygon": {{Box(tread, Toe)}}, "touching": true }] }],
            """;
        var shares = new JsonObject(new[] { ("textile", "textile"), ("rubber-plastics", "rubber"), ("leather", "leather") }
            .Select(m => KeyValuePair.Create<string, JsonNode?>(m.Item1, new JsonObject { ["from"] = $"underfoot/left/share.{m.Item2}" })));
        Assert.IsType<SaveResult.Saved>(await bench.Shelf.SaveAsync(stored.Id, stored.Revision, Review(underfoot, shares.ToJsonString())));
        return stored.Id;
    }

    private static string Review(string underfoot, string shares) => $$"""
        { "format": "pairbench-review/1", "style": { "name": "Led" }, "build": { "label": "one" }, "photos": [{{(underfoot.Length > 0 ? """{ "file": "scan.png", "view": "sole", "side": "left" }""" : "")}}], "evidence": { {{underfoot}}
          "duty": { "unknown": "plain", "customsValue": { "value": 10, "currency": "USD" }, "facts": { "upper": { "material": "textile", "fibre": "vegetable" }, "foxingLikeBand": { "overlapInch": 0.3, "encirclementPct": 100 },
            "outerSole": { "note5Durable": false, "groundContactPct": {{shares}} } } },
          "cost": { "currency": "USD", "duty": { "from": "duty/main/duty" }, "lines": [{ "id": "all", "component": "All", "material": "all of it", "price": 10, "per": "pair" }] } } }
        """;

    private static string Box(int from, int to) => string.Create(CultureInfo.InvariantCulture, $"[[{from},150],[{to},150],[{to},450],[{from},450]]");

    private static byte[] Scan(int inlay, int tread)
    {
        var size = new PixelSize(800, 600);
        var pixels = new byte[size.Count * 3];
        var noise = new Random(64);
        for (var y = 0; y < size.Height; y++)
        {
            for (var x = 0; x < size.Width; x++)
            {
                var (red, green, blue) = y is < 150 or >= 450 || x is < Heel or >= Toe ? (150, 150, 150) : x < inlay ? (176, 150, 120) : x < tread ? (52, 50, 48) : (110, 60, 30);
                var at = ((y * size.Width) + x) * 3;
                var grain = noise.Next(-6, 7);
                (pixels[at], pixels[at + 1], pixels[at + 2]) = ((byte)(red + grain), (byte)(green + grain), (byte)(blue + grain));
            }
        }

        return PictureWriter.Png(new RgbImage(size, pixels));
    }
}

using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using Pairbench.Bench.Compare;
using Pairbench.Bench.Findings;
using Pairbench.Bench.Hosting;
using Pairbench.Bench.Shelves;
using Pairbench.Bench.Trends;
using Pairbench.Footwear;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Parts;

/// <summary>An answer that comes after a later question was answered does not take its place.</summary>
public sealed class LateAnswerTests : BunitContext
{
    private const string Sound = """{ "items": [] }""";

    private static readonly TimeSpan Long = TimeSpan.FromSeconds(60);

    [Fact]
    public async Task The_shelf_lists_what_was_searched_last()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var slow = await OpenAsync(temporary);
        var page = Render<ShelfView>();
        page.WaitForAssertion(() => Assert.Equal(2, page.FindAll("li .style").Count), Long);

        var held = slow.Hold();
        var late = page.Find("#search").InputAsync(new ChangeEventArgs { Value = "a" });
        await slow.LetGoAsync();
        page.Find("#search").Input("ab");
        page.WaitForAssertion(() => Assert.Equal("Abel", Assert.Single(page.FindAll("li .style")).TextContent), Long);
        Assert.False(late.IsCompleted);
        held.SetResult();
        await late.WaitAsync(Long, TemporaryShelf.Cancel);

        Assert.Equal("Abel", Assert.Single(page.FindAll("li .style")).TextContent);
        Assert.Equal("ab", page.Find("#search").GetAttribute("value"));
        await DisposeComponentsAsync();
    }

    [Fact]
    public async Task The_trend_shows_what_was_chosen_last()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var slow = await OpenAsync(temporary);
        var page = Render<WatchedTrend>();
        string[] Factories() => [.. page.FindAll("#trend-factory option").Select(o => o.TextContent).Skip(1)];
        page.WaitForAssertion(() => Assert.Equal(["Made-up works 1", "Made-up works 2"], Factories()), Long);

        var address = Services.GetRequiredService<NavigationManager>();
        var held = slow.Hold();
        address.NavigateTo("trend?style=Amos");
        await slow.LetGoAsync();
        address.NavigateTo("trend?style=Abel");
        page.WaitForAssertion(() => Assert.Equal(["Made-up works 1"], Factories()), Long);
        await LateAsync(page.Instance.Looks, held.SetResult);

        Assert.Equal(["Made-up works 1"], Factories());
        await DisposeComponentsAsync();
    }

    [Fact]
    public async Task Findings_are_those_of_the_style_that_was_asked_for_last()
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        foreach (var (style, words) in new[] { ("Quay", "Tongue of the one"), ("Jetty", "Tongue of the other") })
        {
            await temporary.ExaminedAsync(style, "bulk 1", "2026-01-01", $$"""{ "items": [ { "check": "tongue", "answer": "finding", "words": "{{words}}" } ] }""");
        }

        var slow = await OpenAsync(temporary);
        var page = Render<WatchedFindings>();
        var address = Services.GetRequiredService<NavigationManager>();
        var held = slow.Hold();
        address.NavigateTo("findings?style=Quay");
        await slow.LetGoAsync();
        address.NavigateTo("findings?style=Jetty");
        page.WaitForAssertion(() => Assert.Contains("Tongue of the other", page.Find("tbody th").TextContent, StringComparison.Ordinal), Long);
        await LateAsync(page.Instance.Looks, held.SetResult);

        Assert.Contains("Tongue of the other", Assert.Single(page.FindAll("tbody th")).TextContent, StringComparison.Ordinal);
        await DisposeComponentsAsync();
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public async Task A_comparison_is_that_which_was_asked_for_last(bool refused)
    {
        await using var temporary = await TemporaryShelf.OpenAsync();
        var (one, other) = (await temporary.ExaminedAsync("Quay", "bulk 1", "2026-01-01", Sound), await temporary.ExaminedAsync("Quay", "bulk 2", "2026-02-01", Sound));
        var slow = await OpenAsync(temporary);
        var page = Render<WatchedCompare>();
        string[] Builds() => [.. page.FindAll("ol.builds a").Select(a => a.TextContent)];
        var address = Services.GetRequiredService<NavigationManager>();
        var held = slow.Hold(nameof(IReviewShelf.ReadAsync));
        address.NavigateTo($"compare?of={one.Id},{other.Id}");
        await slow.LetGoAsync();
        address.NavigateTo($"compare?of={other.Id},{one.Id}");
        page.WaitForAssertion(() => Assert.Equal(["Quay, bulk 2", "Quay, bulk 1"], Builds()), Long);
        await LateAsync(page.Instance.Looks, refused ? () => held.SetException(new FaultsException(new Fault("review", "cannot be read", "mend it"))) : held.SetResult);

        Assert.Equal(["Quay, bulk 2", "Quay, bulk 1"], Builds());
        Assert.Empty(page.FindAll(".fault"));
        await DisposeComponentsAsync();
    }

    /// <summary>Lets the answer to the last question but one come, and waits until the page has done with it.</summary>
    private static async Task LateAsync(List<Task> looks, Action answer)
    {
        var late = looks[^2];
        Assert.False(late.IsCompleted);
        answer();
        await late.WaitAsync(Long, TemporaryShelf.Cancel);
    }

    private async Task<SlowShelf> OpenAsync(TemporaryShelf temporary)
    {
        foreach (var (style, factory) in new[] { ("Abel", "Made-up works 1"), ("Amos", "Made-up works 2") })
        {
            await temporary.Shelf.CreateAsync($$"""{ "format": "pairbench-review/1", "style": { "name": "{{style}}" }, "build": { "label": "1", "factory": "{{factory}}" } }""", TemporaryShelf.Cancel);
        }

        var slow = SlowShelf.Before(temporary.Shelf);
        JSInterop.Mode = JSRuntimeMode.Loose;
        Services.AddSingleton(slow.Shelf);
        Services.AddSingleton(TemporaryShelf.Catalogue);
        Services.AddSingleton(TimeProvider.System);
        Services.AddSingleton(new Transfer(slow.Shelf, new BenchOptions { DataFolder = "" }));
        Services.AddSingleton<LatelyExamined>();
        Services.AddScoped<PastReviews>();
        return slow;
    }

    // Pages that tell when they have done with what they looked for.
    private sealed class WatchedTrend : TrendPage
    {
        public List<Task> Looks { get; } = [];

        protected override Task OnParametersSetAsync()
        {
            Looks.Add(base.OnParametersSetAsync());
            return Looks[^1];
        }
    }

    private sealed class WatchedFindings : FindingsPage
    {
        public List<Task> Looks { get; } = [];

        protected override Task OnParametersSetAsync()
        {
            Looks.Add(base.OnParametersSetAsync());
            return Looks[^1];
        }
    }

    private sealed class WatchedCompare : ComparePage
    {
        public List<Task> Looks { get; } = [];

        protected override Task OnParametersSetAsync()
        {
            Looks.Add(base.OnParametersSetAsync());
            return Looks[^1];
        }
    }
}

using Bunit;
using Microsoft.AspNetCore.Components;
using Microsoft.Extensions.DependencyInjection;
using Pairbench.Bench.Compare;
using Pairbench.Bench.Hosting;
using Pairbench.Bench.Shelves;
using Pairbench.Bench.Trends;

namespace Pairbench.Bench.Tests.Parts;

/// <summary>An answer that comes after a later question was answered does not take its place.</summary>
public sealed class LateAnswerTests : BunitContext
{
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
        slow.LetGo();
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
        slow.LetGo();
        address.NavigateTo("trend?style=Abel");
        page.WaitForAssertion(() => Assert.Equal(["Made-up works 1"], Factories()), Long);
        var late = page.Instance.Looks[^2];
        Assert.False(late.IsCompleted);
        held.SetResult();
        await late.WaitAsync(Long, TemporaryShelf.Cancel);

        Assert.Equal(["Made-up works 1"], Factories());
        await DisposeComponentsAsync();
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

    /// <summary>Tells when it has done with what it looked for.</summary>
    private sealed class WatchedTrend : TrendPage
    {
        public List<Task> Looks { get; } = [];

        protected override Task OnParametersSetAsync()
        {
            Looks.Add(base.OnParametersSetAsync());
            return Looks[^1];
        }
    }
}

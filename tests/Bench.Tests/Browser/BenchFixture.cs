using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.AspNetCore.Builder;
using Microsoft.Playwright;
using Pairbench.Bench.Tests.Parts;
using Pairbench.Imaging;
using Pairbench.Imaging.Photographs;
using Pairbench.Storage;

namespace Pairbench.Bench.Tests.Browser;

/// <summary>The real bench on a free port with a data folder of its own, and one Chromium for all tests.</summary>
public sealed class BenchFixture : IAsyncLifetime
{
    private readonly string _folder = Directory.CreateTempSubdirectory("bench-").FullName;
    private WebApplication? _app;
    private IPlaywright? _playwright;
    private IBrowser? _browser;

    /// <summary>Where the store of these tests lies.</summary>
    public string Folder => _folder;

    public string Address { get; private set; } = "";

    public IReviewShelf Shelf { get; private set; } = null!;

    public string Sole { get; private set; } = "";

    /// <summary>What the camera of these tests writes to.</summary>
    public string Camera => Path.Combine(_folder, "camera");

    public async ValueTask InitializeAsync()
    {
        // A machine that builds and tests other things at the same time answers late, not wrongly.
        Assertions.SetDefaultExpectTimeout(60_000);
        Shelf = await ReviewShelf.OpenFolderAsync(_folder);
        _app = BenchHost.Build(new BenchOptions { DataFolder = _folder, Urls = "http://127.0.0.1:0", WatchedFolder = Directory.CreateDirectory(Camera).FullName }, Shelf);
        await _app.StartAsync();
        Address = _app.Urls.Single();
        Sole = Path.Combine(_folder, "sole.jpg");
        await File.WriteAllBytesAsync(Sole, MadeUpSole());
        Environment.SetEnvironmentVariable("PLAYWRIGHT_SKIP_BROWSER_DOWNLOAD", "1");
        _playwright = await Playwright.CreateAsync();
        _browser = await Launch(_playwright);
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null)
        {
            await _browser.DisposeAsync();
        }

        _playwright?.Dispose();
        if (_app is not null)
        {
            await _app.StopAsync();
            await _app.DisposeAsync();
        }

        await TemporaryShelf.DeleteAsync(_folder);
    }

    /// <summary>A page that fails its test when a script breaks or the policy of the bench stops something.</summary>
    public async Task<TestPage> OpenAsync(string path = "", int width = 1440, ColorScheme scheme = ColorScheme.Light, bool touch = false)
    {
        var context = await _browser!.NewContextAsync(new BrowserNewContextOptions
        {
            BaseURL = Address,
            ViewportSize = new ViewportSize { Width = width, Height = 900 },
            ColorScheme = scheme,
            HasTouch = touch,
            AcceptDownloads = true,
        });
        context.SetDefaultTimeout(60_000);
        var page = new TestPage(context, await context.NewPageAsync());
        await page.Page.GotoAsync(Address + "/" + path);
        await page.Page.WaitForSelectorAsync("h1");
        return page;
    }

    /// <summary>A review with readings and a finding.</summary>
    public Task<StoredReview> MeasuredReviewAsync() => Shelf.CreateAsync("""
            {
              "format": "pairbench-review/1",
              "style": { "name": "Marrow", "construction": "vulcanized" },
              "build": { "label": "bulk 2", "factory": "Made-up factory 7", "colourway": "bone" },
              "pair": { "size": "42" },
              "limits": { "hardness/main/outsole.hardness": { "min": 55, "max": 65, "severity": "major", "source": "made up for a test" } },
              "evidence": {
                "hardness": [ { "id": "main", "spots": [ { "id": "outsole", "component": "outsole", "scale": "ShoreA", "surface": "bare", "readings": [60, 61, 60, 62, 61] } ] } ],
                "walk-round": [ { "id": "main", "items": [ { "check": "box-label", "answer": "finding", "words": "The box says 43" } ] } ]
              }
            }
            """);

    /// <summary>The same with a sole.</summary>
    public async Task<string> FilledReviewAsync()
    {
        var stored = await MeasuredReviewAsync();
        await using (var picture = File.OpenRead(Sole))
        {
            await Shelf.AttachAsync(stored.Id, "sole.jpg", picture);
        }

        var saved = await Shelf.SaveAsync(stored.Id, stored.Revision, stored.Document.Replace("\"limits\":", """
            "photos": [ { "file": "sole.jpg", "view": "sole", "side": "left" } ], "limits":
            """, StringComparison.Ordinal).Replace("\"walk-round\"", """
            "underfoot": [ { "id": "left", "side": "left", "photo": { "file": "sole.jpg", "scale": { "kind": "bar", "ends": [[40, 560], [240, 560]], "lengthMm": 50 } }, "dabs": [
              { "material": "textile", "path": [[300, 300], [340, 310]], "radiusPx": 8 }, { "material": "rubber", "path": [[520, 300], [560, 310]], "radiusPx": 8 }, { "material": "clear", "path": [[20, 20], [60, 30]], "radiusPx": 8 } ] } ], "walk-round"
            """, StringComparison.Ordinal));
        Assert.IsType<SaveResult.Saved>(saved);
        return stored.Id;
    }

    internal static Task<IBrowser> Launch(IPlaywright playwright) => playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions
    {
        ExecutablePath = "/usr/bin/chromium",
        Args = ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"],
    });

    /// <summary>Two halves of different stuff in an oval on grey: enough of a sole for the pages.</summary>
    private static byte[] MadeUpSole()
    {
        var size = new PixelSize(800, 600);
        var pixels = new byte[size.Count * 3];
        var noise = new Random(20261125);
        for (var y = 0; y < size.Height; y++)
        {
            for (var x = 0; x < size.Width; x++)
            {
                var inside = Math.Pow((x - 400) / 320.0, 2) + Math.Pow((y - 300) / 150.0, 2) < 1;
                var (red, green, blue) = !inside ? (150, 150, 150) : x < 400 ? (176, 150, 120) : (52, 50, 48);
                var grain = noise.Next(-8, 9) + (inside && x < 400 ? noise.Next(-16, 17) : 0);
                var at = ((y * size.Width) + x) * 3;
                pixels[at] = (byte)Math.Clamp(red + grain, 0, 255);
                pixels[at + 1] = (byte)Math.Clamp(green + grain, 0, 255);
                pixels[at + 2] = (byte)Math.Clamp(blue + grain, 0, 255);
            }
        }

        return PictureWriter.Jpeg(new RgbImage(size, pixels), 92);
    }
}

/// <summary>A page with what went wrong on it.</summary>
public sealed class TestPage : IAsyncDisposable
{
    private readonly IBrowserContext _context;
    private readonly List<string> _errors = [];

    internal TestPage(IBrowserContext context, IPage page)
    {
        (_context, Page) = (context, page);
        page.PageError += (_, error) => _errors.Add(error);
        page.Console += (_, message) =>
        {
            if (message.Type == "error" && !message.Text.Contains("422", StringComparison.Ordinal))
            {
                _errors.Add(message.Text);
            }
        };
    }

    public IPage Page { get; }

    public IReadOnlyList<string> Errors => _errors;

    public Task SavedAsync() => SavedAsync(Page);

    /// <summary>Waits until the page says that everything is saved.</summary>
    public static async Task SavedAsync(IPage page)
    {
        try
        {
            await page.WaitForFunctionAsync("() => /^saved/.test(document.querySelector('.saved:not([data-typed])')?.textContent ?? '')");
        }
        catch (TimeoutException e)
        {
            var says = await page.EvaluateAsync<string>("() => { const s = document.querySelector('.saved'); return s ? `${s.textContent}; sent ${s.sent}, arrived ${s.dataset.arrived}; ${document.querySelector('header')?.innerText}` : document.body.innerText.slice(0, 400); }");
            throw new TimeoutException($"The page does not say that all is saved, but: {says}", e);
        }
    }

    /// <summary>What bars somebody from the page as it stands, serious or worse, by the rules of WCAG 2.2 A and AA that axe knows.</summary>
    public async Task<IReadOnlyList<string>> BarriersAsync()
    {
        // Scrolled, a target may lie half beneath the head of the sheet, which axe takes for a small one.
        await Page.EvaluateAsync("() => scrollTo(0, 0)");
        var result = await Page.RunAxe(new AxeRunOptions { RunOnly = RunOnlyOptions.Tags("wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa") });
        return [.. result.Violations.Where(v => v.Impact is "serious" or "critical").SelectMany(v => v.Nodes.Select(n => $"{v.Id}: {n.Html}"))];
    }

    public async Task<bool> ScrollsSidewaysAsync() =>
        await Page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth > document.documentElement.clientWidth + 1");

    public async ValueTask DisposeAsync() => await _context.DisposeAsync();
}

/// <summary>Browser tests share one bench and one browser, and run one after the other.</summary>
[CollectionDefinition(Name)]
public sealed class BrowserTests : ICollectionFixture<BenchFixture>
{
    public const string Name = "browser";
}

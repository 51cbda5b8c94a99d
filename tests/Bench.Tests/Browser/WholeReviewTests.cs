using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using UglyToad.PdfPig;

namespace Pairbench.Bench.Tests.Browser;

/// <summary>A review from an empty form to its seal, the report and the sheet for the factory, with pictures of the demo: once by keyboard and once by touch, and by nothing else.</summary>
[Collection(BrowserTests.Name)]
public sealed class WholeReviewTests(BenchFixture bench)
{
    private const double Width = 1840;
    private const double Height = 1380;

    private static readonly (double X, double Y)[] Corners = [(84, 146), (1719, 138), (1754, 1301), (74, 1324)];

    private static readonly (string Material, (double X, double Y)[] Places)[] Dabs =
    [
        ("Textile", [(1200, 610), (1330, 740), (450, 690)]),
        ("Rubber", [(1130, 888), (1290, 506), (651, 690)]),
        ("Not touching", [(760, 700), (1500, 1000)]),
    ];

    private static string Picture(string name) => Path.Combine(Repository.Root, "demo", "build-1", name);

    [Fact]
    public async Task By_keyboard_alone()
    {
        await using var opened = await bench.OpenAsync();
        var page = opened.Page;
        var keys = page.Keyboard;

        await Tab("New review");
        await keys.PressAsync("Enter");
        await Assertions.Expect(page.Locator("#new-style")).ToBeFocusedAsync();
        await keys.TypeAsync("By keys");
        await Tab("Build");
        await keys.TypeAsync("bulk 1");
        await Tab("Construction");
        await keys.TypeAsync("vulc");
        await Tab("Put it on the bench");
        await keys.PressAsync("Enter");
        await Assertions.Expect(page.Locator("#intake.open")).ToBeVisibleAsync();
        await Tab("Examined by");
        await keys.TypeAsync("K. Keys (invented)");

        await Open("Walk round");
        await Assertions.Expect(page.Locator(".zone[data-ready]").First).ToBeVisibleAsync();
        await Tab("Add photographs");
        var chooser = await page.RunAndWaitForFileChooserAsync(() => keys.PressAsync("Enter"));
        await chooser.SetFilesAsync([Picture("sole-left.jpg"), Picture("pair-toe.jpg")]);
        await Assertions.Expect(page.Locator(".photos li")).ToHaveCountAsync(2);
        await Tab("Checks");
        await keys.PressAsync("s");
        await keys.PressAsync("f");
        await keys.PressAsync("Enter");
        await Assertions.Expect(page.GetByLabel("What is wrong")).ToBeFocusedAsync();
        await keys.TypeAsync("A lace is missing");
        await Tab("pair-toe.jpg");
        await keys.PressAsync("Enter");
        await Tab("pair-toe.jpg. Arrow");
        await Assertions.Expect(page.Locator("canvas")).ToHaveAttributeAsync("data-tool", "point");
        await keys.PressAsync("Enter");
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Delete Pin" })).ToBeVisibleAsync();

        await Open("Measure");
        await Tab("Add the first spot");
        await keys.PressAsync("Enter");
        await Assertions.Expect(page.GetByLabel("Component")).ToBeFocusedAsync();
        await keys.TypeAsync("outsole");
        await Tab("Scale");
        await keys.TypeAsync("Shore A");
        await Tab("outsole");
        foreach (var reading in new[] { "60", "61", "60.5", "62", "60" })
        {
            await keys.TypeAsync(reading);
            await keys.PressAsync("Enter");
        }

        await Assertions.Expect(page.Locator(".taken")).ToContainTextAsync("5 readings");

        await Open("Underfoot");
        await Tab("Add the left sole");
        await keys.PressAsync("Enter");
        await Assertions.Expect(page.Locator("#underfoot .picker button").First).ToBeFocusedAsync();
        await Tab("sole-left.jpg", orHere: true);
        await keys.PressAsync("Enter");
        await Assertions.Expect(page.Locator("#underfoot .view[data-loaded]")).ToBeVisibleAsync();
        await Tab("Sheet corners");
        await keys.PressAsync("Enter");
        await Tab("sole-left.jpg. Arrow");
        foreach (var (x, y) in Corners)
        {
            await Place(x, y);
        }

        await Assertions.Expect(page.GetByText("Say which paper it is")).ToBeVisibleAsync();

        // A corner is moved by a number; another tool then puts it down, and the arrows move the picture again.
        await keys.PressAsync("]");
        await keys.TypeAsync("2.5");
        await keys.PressAsync("ArrowRight");
        await Tab("Paper", back: true);
        await keys.TypeAsync("A3 l");
        foreach (var (material, places) in Dabs)
        {
            await Tab("Look");
            await Tab("Dab");
            await keys.PressAsync("Enter");
            await Tab(material);
            await keys.PressAsync("Enter");
            await Tab("sole-left.jpg. Arrow");
            foreach (var (x, y) in places)
            {
                await Place(x, y);
            }
        }

        await Assertions.Expect(page.Locator("#underfoot .list [aria-label^=Delete]")).ToHaveCountAsync(1 + Dabs.Sum(d => d.Places.Length));
        await Assertions.Expect(page.Locator("[data-figure='share.textile']")).ToContainTextAsync(" %");

        await Open("Decide");
        await Tab("Verdict taken");
        await keys.TypeAsync("hold");
        await Tab("Reason");
        await keys.TypeAsync("The rest is still to be seen.");
        await Tab("Decide and seal");
        await keys.PressAsync("Enter");
        await Assertions.Expect(page.GetByText("The review is sealed as it stood.")).ToBeVisibleAsync();
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Open it again" })).ToBeFocusedAsync();
        await Tab("PDF to send", back: true);
        await ToldIn(await page.RunAndWaitForDownloadAsync(() => keys.PressAsync("Enter")), "A lace is missing");
        await Tab("PDF", back: true);
        await ToldIn(await page.RunAndWaitForDownloadAsync(() => keys.PressAsync("Enter")), "Textile share");
        Assert.Empty(opened.Errors);

        async Task Open(string stop)
        {
            await Tab(stop);
            await keys.PressAsync("Enter");
            await Assertions.Expect(page.Locator(".stop.open h2").Filter(new() { HasText = stop })).ToBeVisibleAsync();
        }

        // To what begins with these words; where the focus lands it is seen.
        async Task Tab(string name, bool back = false, bool orHere = false)
        {
            for (var pressed = 0; pressed < 250; pressed++)
            {
                if (!orHere || pressed > 0)
                {
                    await keys.PressAsync(back ? "Shift+Tab" : "Tab");
                }

                var held = await page.EvaluateAsync<string>("""
                    () => {
                      const e = document.activeElement;
                      const seen = e.type === 'file' ? e.closest('label') : e;
                      const name = e.getAttribute('aria-label') ?? e.labels?.[0]?.innerText ?? e.innerText ?? '';
                      return `${getComputedStyle(seen).outlineStyle} ${name.trim().replace(/^[+\u2212]\s*/, '')}`;
                    }
                    """);
                if (held.StartsWith("solid " + name, StringComparison.Ordinal))
                {
                    return;
                }
            }

            Assert.Fail($"Tab does not come to {name}, or does not show it.");
        }

        // The cross is the pointer: what it lies on is read from the board.
        async Task Place(double x, double y)
        {
            await keys.PressAsync("Home");
            await Times("+", 3);
            await keys.PressAsync("ArrowRight");
            var from = await Under();
            await keys.PressAsync("ArrowRight");
            var step = (await Under()).X - from.X;
            var (across, down) = ((int)Math.Round(((x - from.X) / step) - 1), (int)Math.Round((y - from.Y) / step));
            await Times(across < 0 ? "Shift+ArrowLeft" : "Shift+ArrowRight", Math.Abs(across / 5));
            await Times(across < 0 ? "ArrowLeft" : "ArrowRight", Math.Abs(across % 5));
            await Times(down < 0 ? "Shift+ArrowUp" : "Shift+ArrowDown", Math.Abs(down / 5));
            await Times(down < 0 ? "ArrowUp" : "ArrowDown", Math.Abs(down % 5));
            Assert.InRange((await Under()).X, x - step, x + step);
            await keys.PressAsync("Enter");
        }

        async Task Times(string key, int times)
        {
            for (var i = 0; i < times; i++)
            {
                await keys.PressAsync(key);
            }
        }

        async Task<(double X, double Y)> Under()
        {
            var said = Regex.Match(await page.Locator("#underfoot [data-readout]").InnerTextAsync(), @"x (\S+) px, y (\S+) px");
            return (double.Parse(said.Groups[1].Value, CultureInfo.InvariantCulture), double.Parse(said.Groups[2].Value, CultureInfo.InvariantCulture));
        }
    }

    [Fact]
    public async Task By_touch_alone_on_a_phone()
    {
        await using var opened = await bench.OpenAsync(width: 390, touch: true);
        var page = opened.Page;

        await Tap("New review");
        await Fill("Style", "By touch");
        await Fill("Build", "bulk 1");
        await page.GetByLabel("Construction").SelectOptionAsync("vulcanized");
        await Tap("Put it on the bench");
        await Assertions.Expect(page.Locator("#intake.open")).ToBeVisibleAsync();
        await Fill("Examined by", "T. Touch (invented)");

        await Tap("Walk round");
        await Assertions.Expect(page.Locator(".zone[data-ready]").First).ToBeVisibleAsync();
        var chooser = await page.RunAndWaitForFileChooserAsync(() => page.Locator(".zone label").First.TapAsync());
        await chooser.SetFilesAsync([Picture("sole-left.jpg"), Picture("pair-toe.jpg")]);
        await Assertions.Expect(page.Locator(".photos li")).ToHaveCountAsync(2);
        await page.Locator("#check-box-contents").TapAsync();
        await Tap("Finding");
        await Fill("What is wrong", "A lace is missing");
        await Tap("pair-toe.jpg");
        await Assertions.Expect(page.Locator("canvas")).ToHaveAttributeAsync("data-tool", "point");
        await Touch((0.5, 0.5));
        await Assertions.Expect(page.GetByRole(AriaRole.Button, new() { Name = "Delete Pin" })).ToBeVisibleAsync();
        await Tap("Walk round");

        await Tap("Measure");
        await Tap("Add the first spot");
        await Fill("Component", "outsole");
        await page.GetByLabel("Scale").SelectOptionAsync("ShoreA");
        var reading = page.Locator("[data-reading]");
        await reading.TapAsync();
        foreach (var number in new[] { "60", "61", "60.5", "62", "60", "99" })
        {
            // Keys for numbers have no Enter on every phone.
            await page.Keyboard.InsertTextAsync(number);
            await Tap("Take it");
        }

        await Assertions.Expect(page.Locator(".taken")).ToContainTextAsync("6 readings");
        await Tap("Take back");
        await Assertions.Expect(page.Locator(".taken")).ToContainTextAsync("5 readings");

        // What stands in the field is taken back before what was taken.
        await page.Keyboard.InsertTextAsync("88");
        await Tap("Take back");
        await Assertions.Expect(reading).ToHaveValueAsync("");
        await Assertions.Expect(reading).ToBeFocusedAsync();
        await opened.SavedAsync();
        await Assertions.Expect(page.Locator(".taken")).ToContainTextAsync("5 readings");
        await Tap("Measure");

        await Tap("Underfoot");
        await Tap("Add the left sole");
        await page.Locator("#underfoot").GetByRole(AriaRole.Button, new() { Name = "sole-left.jpg" }).TapAsync();
        await Assertions.Expect(page.Locator("#underfoot .view[data-loaded]")).ToBeVisibleAsync();
        await Tap("Sheet corners");
        foreach (var (x, y) in Corners)
        {
            await Touch(At(x, y, room: 8));
        }

        await page.GetByLabel("Paper", new() { Exact = true }).SelectOptionAsync("A3 lying");
        await Assertions.Expect(page.GetByText("Corners are marked. Take hold of one")).ToBeVisibleAsync();
        foreach (var (material, places) in Dabs)
        {
            await Tap("Dab");
            await Tap(material);
            foreach (var (x, y) in places)
            {
                var at = At(x, y, room: 28);
                await Touch(at, (at.X + 0.01, at.Y));
            }
        }

        await Assertions.Expect(page.Locator("#underfoot .list [aria-label^=Delete]")).ToHaveCountAsync(1 + Dabs.Sum(d => d.Places.Length));
        await Assertions.Expect(page.Locator("[data-figure='share.textile']")).ToContainTextAsync(" %");

        // Two fingers look closer and draw nothing.
        await Pinch();
        await Assertions.Expect(page.Locator("#underfoot .list [aria-label^=Delete]")).ToHaveCountAsync(1 + Dabs.Sum(d => d.Places.Length));
        Assert.False(await opened.ScrollsSidewaysAsync());

        await Tap("Decide");
        await page.GetByLabel("Verdict taken").SelectOptionAsync("hold");
        await Fill("Reason", "The rest is still to be seen.");
        await Tap("Decide and seal");
        await Assertions.Expect(page.GetByText("The review is sealed as it stood.")).ToBeVisibleAsync();
        await ToldIn(await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Link, new() { Name = "PDF to send" }).TapAsync()), "A lace is missing");
        await ToldIn(await page.RunAndWaitForDownloadAsync(() => page.GetByRole(AriaRole.Link, new() { Name = "PDF", Exact = true }).TapAsync()), "Textile share");
        Assert.Empty(opened.Errors);

        Task Tap(string name) => page.GetByRole(AriaRole.Button, new() { NameRegex = new Regex($@"^{name}\b") }).First.TapAsync();

        // What keys on a screen write comes as text and not as strokes.
        async Task Fill(string label, string text)
        {
            var field = page.GetByLabel(new Regex("^" + label)).Filter(new() { Visible = true }).First;
            await field.TapAsync();
            await Assertions.Expect(field).ToBeFocusedAsync();
            await page.Keyboard.InsertTextAsync(text);
        }

        async Task<(double X, double Y, double Width, double Height)> Canvas()
        {
            var canvas = page.Locator("canvas").Last;
            await canvas.EvaluateAsync("c => c.scrollIntoView({ block: 'center' })");
            var box = (await canvas.BoundingBoxAsync())!;
            return (box.X, box.Y, box.Width, box.Height);
        }

        // As shares of the board, the whole picture in it.
        (double X, double Y) At(double x, double y, double room)
        {
            var box = Canvas().GetAwaiter().GetResult();
            var scale = Math.Min((box.Width - (2 * room)) / Width, (box.Height - (2 * room)) / Height);
            return (0.5 + ((x - (Width / 2)) * scale / box.Width), 0.5 + ((y - (Height / 2)) * scale / box.Height));
        }

        async Task Touch(params (double X, double Y)[] way)
        {
            var box = await Canvas();
            await Fingers([.. way.Select(p => new[] { (box.X + (p.X * box.Width), box.Y + (p.Y * box.Height)) })]);
        }

        async Task Pinch()
        {
            var box = await Canvas();
            var (x, y) = (box.X + (box.Width / 2), box.Y + (box.Height / 2));
            await Fingers([(x - 20, y), (x + 20, y)], [(x - 60, y), (x + 60, y)], [(x - 110, y), (x + 110, y)]);
        }

        async Task Fingers(params (double X, double Y)[][] moments)
        {
            var browser = await page.Context.NewCDPSessionAsync(page);
            var type = "touchStart";
            foreach (var fingers in moments)
            {
                await Send(type, fingers);
                type = "touchMove";
            }

            await Send("touchEnd", []);
            await browser.DetachAsync();

            Task Send(string type, (double X, double Y)[] fingers) => browser.SendAsync("Input.dispatchTouchEvent", new Dictionary<string, object>
            {
                ["type"] = type,
                ["touchPoints"] = fingers.Select((f, i) => new { x = f.X, y = f.Y, id = i }).ToArray(),
            });
        }
    }

    private static async Task ToldIn(IDownload download, string words)
    {
        using var pdf = PdfDocument.Open(await File.ReadAllBytesAsync((await download.PathAsync())!));
        Assert.Contains(words, string.Join(' ', pdf.GetPages().Select(p => p.Text)), StringComparison.Ordinal);
    }
}

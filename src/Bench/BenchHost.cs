using Microsoft.AspNetCore.DataProtection;
using Pairbench.Bench.Components;
using Pairbench.Bench.Hosting;
using Pairbench.Storage;
using Serilog;
using Serilog.Events;

namespace Pairbench.Bench;

/// <summary>The web bench as a program that any other can host.</summary>
public static class BenchHost
{
    /// <summary>Serves until it is called off.</summary>
    /// <param name="listening">Told the addresses once they answer.</param>
    public static async Task RunAsync(BenchOptions options, IReviewShelf shelf, CancellationToken cancellation, Action<IReadOnlyCollection<string>>? listening = null)
    {
        await using var app = Build(options, shelf);
        await app.StartAsync(cancellation);
        listening?.Invoke([.. app.Urls]);
        try
        {
            await app.WaitForShutdownAsync(cancellation);
        }
        catch (OperationCanceledException)
        {
            await app.StopAsync(CancellationToken.None);
        }
    }

    /// <summary>The host, not yet started.</summary>
    /// <param name="shelf">Where reviews are kept.</param>
    public static WebApplication Build(BenchOptions options, IReviewShelf shelf)
    {
        ArgumentNullException.ThrowIfNull(options);
        ArgumentNullException.ThrowIfNull(shelf);
        Directory.CreateDirectory(options.DataFolder);
        var builder = WebApplication.CreateBuilder(new WebApplicationOptions
        {
            ApplicationName = typeof(BenchHost).Assembly.GetName().Name,
            ContentRootPath = AppContext.BaseDirectory,
            EnvironmentName = Environments.Production,
        });
        builder.WebHost.UseUrls(options.Urls);
        builder.WebHost.ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = 4L << 20;
        });
        builder.Services.AddSerilog(log => log
            .MinimumLevel.Warning()
            .MinimumLevel.Override("Microsoft.AspNetCore.DataProtection", LogEventLevel.Error)
            .MinimumLevel.Override("Microsoft.EntityFrameworkCore", LogEventLevel.Error)
            // A start that fails is thrown as well, and told by who asked for it.
            .MinimumLevel.Override("Microsoft.Extensions.Hosting", LogEventLevel.Fatal)
            .WriteTo.Console(standardErrorFromLevel: LogEventLevel.Verbose, formatProvider: System.Globalization.CultureInfo.InvariantCulture));
        builder.Services.AddDataProtection().SetApplicationName("pairbench").PersistKeysToFileSystem(new DirectoryInfo(Path.Combine(options.DataFolder, "keys")));
        builder.Services.AddRazorComponents().AddInteractiveServerComponents();
        builder.Services.AddSignalR(hub => hub.MaximumReceiveMessageSize = 1 << 20);
        builder.Services.AddAntiforgery(a => a.Cookie.SameSite = SameSiteMode.Strict);
        builder.Services.AddSingleton(options);
        builder.Services.AddSingleton(TimeProvider.System);
        builder.Services.AddSingleton(CatalogueFolder.Load(options.CatalogueFolder));
        builder.Services.AddSingleton(shelf);
        builder.Services.AddSingleton<Previews>();
        builder.Services.AddSingleton<Plates>();
        builder.Services.AddSingleton<LatelyExamined>();
        builder.Services.AddSingleton<ReportWriting>();
        builder.Services.AddSingleton<Transfer>();
        builder.Services.AddSingleton<Photographs.WatchedFolder>();
        builder.Services.AddScoped<Sheets.ReviewSheets>();
        builder.Services.AddScoped<Compare.PastReviews>();

        var app = builder.Build();
        app.UseMiddleware<Guard>();
        app.UseMiddleware<EmbeddedAssets>();
        app.UseRouting();
        app.UseAntiforgery();
        app.MapGet("/alive", () => Results.Text("yes"));
        var contents = app.MapGroup("").AddEndpointFilter<FaultAnswers>();
        PhotoEndpoints.Map(contents);
        PlateEndpoints.Map(contents);
        ReportEndpoints.Map(contents);
        FileEndpoints.Map(contents);
        TransferEndpoints.Map(contents);
        app.MapRazorComponents<App>().AddInteractiveServerRenderMode(mode => mode.ContentSecurityFrameAncestorsPolicy = "'none'");
        return app;
    }
}

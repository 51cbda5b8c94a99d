namespace Pairbench.Bench;

/// <summary>How the bench is served.</summary>
public sealed record BenchOptions
{
    /// <summary>The address that is bound where none is given: this machine alone.</summary>
    public const string DefaultUrls = "http://127.0.0.1:5210";

    /// <summary>Addresses to bind, separated by semicolons; port 0 takes a free one.</summary>
    public string Urls { get; init; } = DefaultUrls;

    /// <summary>The name that browsers know the bench by where a server on this machine stands before it, with a port that is not the usual one: <c>bench.example.com</c> or <c>bench.example.com:8443</c>; empty where none does.</summary>
    public string Name { get; init; } = "";

    /// <summary>The folder for previews and for the keys of the server.</summary>
    public required string DataFolder { get; init; }

    /// <summary>A review folder or .zip that an empty shelf offers as a first look; empty where there is none.</summary>
    public string DemoFolder { get; init; } = "";

    /// <summary>A folder whose new pictures are offered to the open review; empty where none is watched.</summary>
    public string WatchedFolder { get; init; } = "";

    /// <summary>The folder with the catalogue.</summary>
    public string CatalogueFolder { get; init; } = Storage.CatalogueFolder.Installed;
}

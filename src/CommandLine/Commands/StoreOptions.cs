using System.CommandLine;

namespace Pairbench.CommandLine.Commands;

/// <summary>The options that say where reviews and their photographs are kept.</summary>
internal sealed class StoreOptions
{
    private readonly Option<string?> _store;
    private readonly Option<string?> _files;
    private readonly S3Options _s3;

    public StoreOptions(string store, string files, S3Options s3, string what = "")
    {
        _store = new(store)
        {
            Description = $"{what}a folder for the database and the photographs, or a PostgreSQL connection string (Host=...;Database=...)",
            HelpName = "FOLDER|CONNECTION",
        };
        _files = new(files)
        {
            Description = $"{what}where the photographs lie if not in the data folder: a folder, or a bucket as s3://BUCKET/PREFIX with AWS_ACCESS_KEY_ID and AWS_SECRET_ACCESS_KEY in the environment",
            HelpName = "FOLDER|s3://BUCKET/PREFIX",
        };
        _s3 = s3;
    }

    /// <summary>The options of a command that works on one store.</summary>
    public static StoreOptions AddedTo(Command command)
    {
        var s3 = new S3Options();
        var options = new StoreOptions("--store", "--files", s3);
        options.AddTo(command);
        s3.AddTo(command);
        return options;
    }

    public void AddTo(Command command)
    {
        command.Options.Add(_store);
        command.Options.Add(_files);
    }

    public bool IsGiven(ParseResult parsed) => parsed.GetValue(_store) is { Length: > 0 };

    public Store Of(ParseResult parsed) =>
        Store.Of(parsed.GetValue(_store)) with { StoreOption = _store.Name, FilesOption = _files.Name, Files = parsed.GetValue(_files) ?? "", Endpoint = _s3.Endpoint(parsed), Region = _s3.Region(parsed) };
}

/// <summary>How a bucket is reached.</summary>
internal sealed class S3Options
{
    private readonly Option<string?> _endpoint = new("--s3-endpoint") { Description = "the server of a bucket that is not Amazon's; AWS_ENDPOINT_URL_S3 if left out", HelpName = "URL" };
    private readonly Option<string?> _region = new("--s3-region") { Description = "the region of a bucket; AWS_REGION if left out", HelpName = "REGION" };

    public void AddTo(Command command)
    {
        command.Options.Add(_endpoint);
        command.Options.Add(_region);
    }

    public string Endpoint(ParseResult parsed) => parsed.GetValue(_endpoint) ?? "";

    public string Region(ParseResult parsed) => parsed.GetValue(_region) ?? "";
}

namespace Pairbench.CommandLine.Tests;

/// <summary>One command line run in this process.</summary>
internal sealed record Run(int Code, string Out, string Error)
{
    public IReadOnlyList<string> ErrorLines => Error.Split('\n', StringSplitOptions.RemoveEmptyEntries);

    public static async Task<Run> Of(params string[] args)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var code = await Shell.RunAsync(args, new Terminal(output, error), TestContext.Current.CancellationToken);
        return new Run(code, output.ToString(), error.ToString());
    }
}

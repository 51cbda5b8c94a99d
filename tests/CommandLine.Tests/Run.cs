namespace Pairbench.CommandLine.Tests;

/// <summary>One command line run in this process.</summary>
internal sealed record Run(int Code, string Out, string Error)
{
    public IReadOnlyList<string> ErrorLines => Error.Split('\n', StringSplitOptions.RemoveEmptyEntries);

    public static Task<Run> Of(params string[] args) => On(TimeProvider.System, args);

    public static async Task<Run> On(TimeProvider clock, params string[] args)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var code = await Shell.RunAsync(args, new Terminal(output, error, clock), TestContext.Current.CancellationToken);
        return new Run(code, output.ToString(), error.ToString());
    }
}

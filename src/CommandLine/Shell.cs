using System.CommandLine;
using System.CommandLine.Help;
using Pairbench.CommandLine.Commands;
using Pairbench.Footwear;

namespace Pairbench.CommandLine;

/// <summary>The commands, and what becomes of whatever goes wrong in them.</summary>
public static class Shell
{
    /// <summary>Runs one command line.</summary>
    /// <returns>An <see cref="ExitCode"/>.</returns>
    public static async Task<int> RunAsync(IReadOnlyList<string> args, Terminal terminal, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(terminal);
        await using var messages = new PlainLines(terminal.Error);
        terminal = terminal with { Error = messages };
        var parsed = Root(terminal).Parse(args);
        if (parsed.Errors.Count > 0)
        {
            foreach (var error in parsed.Errors)
            {
                await terminal.Error.WriteLineAsync(new Fault("command line", error.Message.TrimEnd('.'), "see pairbench --help").ToString());
            }

            return ExitCode.WrongInput;
        }

        try
        {
            var configuration = new InvocationConfiguration { Output = terminal.Out, Error = terminal.Error, EnableDefaultExceptionHandler = false };
            return await parsed.InvokeAsync(configuration, cancellation);
        }
        catch (Exception e) when (!Fault.In(e).IsEmpty)
        {
            foreach (var fault in Fault.In(e))
            {
                await terminal.Error.WriteLineAsync(fault.ToString());
            }

            return ExitCode.WrongInput;
        }
        catch (OperationCanceledException)
        {
            await terminal.Error.WriteLineAsync("called off");
            return ExitCode.Failed;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            await terminal.Error.WriteLineAsync($"pairbench: {e.Message}");
            return ExitCode.Failed;
        }
        catch (Exception e)
        {
            // A fault of this program, which none of its input should bring about: what called it still gets one line and a code.
            await terminal.Error.WriteLineAsync($"pairbench: failed by a mistake of its own ({e.GetType().Name}): {e.Message}");
            return ExitCode.Failed;
        }
    }

    /// <remarks>A root command of the library would be called by the file of the program, not by what is typed.</remarks>
    private static Command Root(Terminal terminal)
    {
        var root = new Command("pairbench", "Turns photographs and readings of a pair of shoes into figures with uncertainty, a verdict and a report.")
        {
            ExamineCommand.Create(terminal),
            RunCommand.Create(terminal),
            CompareCommand.Create(terminal),
            TrendCommand.Create(terminal),
            SchemaCommand.Create(terminal),
            SheetCommand.Create(terminal),
            ImportCommand.Create(terminal),
            ExportCommand.Create(terminal),
            MoveCommand.Create(terminal),
            DemoCommand.Create(terminal),
            ServeCommand.Create(terminal),
            new HelpOption(),
            new VersionOption(),
        };
        root.SetAction((_, cancellation) =>
        {
            DemoCommand.RunBefore(terminal, cancellation: cancellation);
            return ServeCommand.RunAsync(terminal, Bench.BenchOptions.DefaultUrls, Store.Of(null), cancellation);
        });
        return root;
    }
}

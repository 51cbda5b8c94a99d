using System.CommandLine;
using System.Data.Common;
using System.Diagnostics;
using System.Globalization;
using Pairbench.Footwear;
using Pairbench.Reporting;
using Pairbench.Storage;

namespace Pairbench.CommandLine.Commands;

/// <summary><c>move --from STORE --to STORE</c>: everything of one store to another.</summary>
internal static class MoveCommand
{
    private static readonly TimeSpan BetweenLines = TimeSpan.FromSeconds(2);

    public static Command Create(Terminal terminal)
    {
        var s3 = new S3Options();
        var from = new StoreOptions("--from", "--from-files", s3, "the store that has the reviews: ");
        var to = new StoreOptions("--to", "--to-files", s3, "the store that is to have them: ");
        var command = new Command("move", "Copies a whole store to another, checks it row by row and leaves the old one as it is. Stop the bench first; what was cut off goes on when it is called again.");
        from.AddTo(command);
        to.AddTo(command);
        s3.AddTo(command);
        command.SetAction((parsed, cancellation) => from.IsGiven(parsed) && to.IsGiven(parsed)
            ? RunAsync(terminal, from.Of(parsed), to.Of(parsed), cancellation)
            : throw new FaultsException(new Fault("move", "needs two stores", "name them with --from and --to, each a folder or a PostgreSQL connection string")));
        return command;
    }

    private static async Task<int> RunAsync(Terminal terminal, Store from, Store to, CancellationToken cancellation)
    {
        if (from.IsSameAs(to))
        {
            throw new FaultsException(new Fault("--to", "is the same store as --from", "name another"));
        }

        try
        {
            var source = await from.OpenExistingAsync(cancellation);
            var target = await to.OpenAsync(cancellation);
            var report = await ShelfMove.RunAsync(source, target, new ProgressLines(terminal.Error), cancellation);
            await terminal.Out.WriteLineAsync(string.Create(
                CultureInfo.InvariantCulture,
                $"{report.Reviews} reviews ({report.Revisions} revisions, {report.Seals} seals), {report.Lots} lots and {report.Files} files are in {PlainText.Of(to.Words)}, rows compared one by one, files by their hash; this move brought {report.BroughtReviews} reviews, {report.BroughtLots} lots and {report.BroughtFiles} files ({Megabytes(report.BroughtBytes)})"));
            return ExitCode.Done;
        }
        catch (DbException e)
        {
            throw new IOException($"a database failed: {e.Message} What has arrived stays; call the move again.", e);
        }
        catch (OperationCanceledException)
        {
            await terminal.Error.WriteLineAsync("what has arrived stays; call the move again to go on");
            throw;
        }
    }

    private static string Megabytes(long bytes) => string.Create(CultureInfo.InvariantCulture, $"{bytes / 1e6:0.0} MB");

    /// <summary>A line at the end of each step, and now and then within it.</summary>
    private sealed class ProgressLines(TextWriter error) : IProgress<MoveProgress>
    {
        private long _last = Stopwatch.GetTimestamp();

        public void Report(MoveProgress value)
        {
            if (value.Done < value.Of && Stopwatch.GetElapsedTime(_last) < BetweenLines)
            {
                return;
            }

            _last = Stopwatch.GetTimestamp();
            var what = value.Step switch
            {
                MoveStep.Comparing => "reviews of the target compared",
                MoveStep.Files => $"files ({Megabytes(value.Bytes)} copied)",
                MoveStep.Reviews => "reviews",
                MoveStep.Lots => "lots",
                _ => "reviews checked",
            };
            error.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{value.Done} of {value.Of} {what}"));
        }
    }
}

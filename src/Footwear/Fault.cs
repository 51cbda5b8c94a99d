using System.Collections.Immutable;
using Pairbench.Imaging;

namespace Pairbench.Footwear;

/// <summary>One thing wrong with what was given.</summary>
/// <param name="Where">Place in the input, such as <c>evidence.hardness[0].spots[1].readings</c>, or a file name.</param>
/// <param name="What">What is wrong there.</param>
/// <param name="WouldBeRight">What would be right.</param>
public sealed record Fault(string Where, string What, string WouldBeRight)
{
    /// <summary>The number that is wrong with those that are right, so that a page can tell them in another unit; null for any other fault, whose words name the units of their numbers.</summary>
    public NumberOutside? Outside { get; init; }

    /// <summary>What else would be right in a file, where a field takes one thing alone: <c>or { "from": "examination/entry/figure" }</c>; empty where that is all.</summary>
    public string InFile { get; init; } = "";

    /// <summary>A photograph that cannot be read, at its file.</summary>
    public static Fault Of(PhotoException unread)
    {
        ArgumentNullException.ThrowIfNull(unread);
        return new Fault(unread.File, unread.Message, unread.WouldBeRight);
    }

    /// <summary>The faults of the input that an exception tells; empty for one that is about something else.</summary>
    public static ImmutableArray<Fault> In(Exception e) => e switch
    {
        FaultsException faulty => faulty.Faults,
        PhotoException unread => [Of(unread)],
        _ => [],
    };

    /// <summary>The fault on one line.</summary>
    public override string ToString() => OneLine($"{(Where.Length == 0 ? "input" : Where)}: {What}; {WouldBeRight}{(InFile.Length == 0 ? "" : $", {InFile}")}");

    /// <remarks>What is repeated of the input may hold what moves or colours a terminal.</remarks>
    private static string OneLine(string text) =>
        string.Join(' ', string.Concat(text.Select(c => char.IsControl(c) ? '\n' : c)).Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries));
}

/// <summary>The input cannot be used. Carries every fault that was found, at least one.</summary>
public class FaultsException(params IEnumerable<Fault> faults) : Exception
{
    public ImmutableArray<Fault> Faults { get; } = [.. faults];

    public override string Message => string.Join("\n", Faults);
}

using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace Pairbench.Footwear.Marking;

/// <summary>What a size counts.</summary>
public enum SizeBasis
{
    Foot,
    Last,
}

/// <summary>A system of sizes: a length is the size and its offset times a step.</summary>
/// <param name="MmPerSize">Length of a whole size.</param>
/// <param name="Offset">Added to the size before the step.</param>
/// <param name="TradeOffset">Another offset that the trade uses.</param>
/// <param name="Family">Systems of one family are steps of one ruler and agree exactly.</param>
public sealed record SizeSystem(string Id, string Label, SizeBasis Basis, double MmPerSize, double Offset, string Status, string? Family = null, double? TradeOffset = null, bool Child = false, string? Note = null)
{
    /// <summary>Length of foot or last of a size, in mm.</summary>
    public double Length(double size) => (size + Offset) * MmPerSize;

    /// <summary>The size of a length in mm, before any rounding.</summary>
    public double Size(double length) => (length / MmPerSize) - Offset;
}

/// <summary>A range as the data give it.</summary>
public sealed record SizeRange(double Low, double High, string Status, string Source);

/// <summary>How far two systems may lie apart.</summary>
public sealed record SizeTolerance(double Value, string Source);

/// <summary>The systems, their relations, and the rows of the standard's table that are known.</summary>
/// <param name="Rows">Each with its sizes by system.</param>
public sealed partial record SizeSystems(
    string Edition,
    ImmutableArray<SizeSystem> Systems,
    SizeRange LastLongerThanFootMm,
    SizeTolerance SameFamilyWithinMm,
    SizeTolerance ChildrenWithinMm,
    SizeTolerance OtherwiseWithinMm,
    ImmutableArray<ImmutableDictionary<string, JsonElement>> Rows)
{
    public const string File = "marking/sizes.json";

    public SizeSystem? Named(string id) => Systems.FirstOrDefault(s => s.Id == id);

    /// <summary>Reads a size as it is written: 42, 8.5, 8,5, 8½, 42 2/3, 10C; null where it is none.</summary>
    public static double? Read(string written)
    {
        ArgumentNullException.ThrowIfNull(written);
        var text = written.Trim().Replace("½", " 1/2", StringComparison.Ordinal).Replace("⅓", " 1/3", StringComparison.Ordinal).Replace("⅔", " 2/3", StringComparison.Ordinal).Replace(',', '.');
        if (Form().Match(text) is not { Success: true } match)
        {
            return null;
        }

        var whole = double.Parse(match.Groups["whole"].Value, CultureInfo.InvariantCulture);
        return match.Groups["of"] is { Success: true } of
            ? double.Parse(of.Value, CultureInfo.InvariantCulture) is var parts and > 0 ? whole + (double.Parse(match.Groups["part"].Value, CultureInfo.InvariantCulture) / parts) : null
            : whole;
    }

    [GeneratedRegex(@"\A(?<whole>\d{1,3}(\.\d{1,2})?)(\s+(?<part>[12])/(?<of>[23]))?\s*[A-Za-z]{0,2}\z")]
    private static partial Regex Form();
}

using System.Collections.Immutable;
using System.Text.Json;

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
public sealed record SizeSystems(
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
}

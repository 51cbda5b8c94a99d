using System.Collections.Immutable;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Imaging.Datum;

/// <summary>Papers that the datum sheet is made for, lying (the longer side is x).</summary>
public enum DatumPaper
{
    A4,
    A3,
    Letter,
}

/// <summary>A printed boundary whose place is known.</summary>
/// <param name="From">In mm of the target.</param>
/// <param name="LineMm">Width of a dark line whose middle this is; 0 for a step from light to dark, the dark lying to the right of somebody who walks from <paramref name="From"/> to <paramref name="To"/> with y down.</param>
/// <param name="ClearMm">To the next boundary it could be taken for.</param>
public readonly record struct PrintedEdge(PlanePoint From, PlanePoint To, double LineMm, double ClearMm)
{
    public PlanePoint Middle => new((From.X + To.X) / 2, (From.Y + To.Y) / 2);

    public double LengthMm => From.DistanceTo(To);
}

/// <summary>A filled rectangle.</summary>
/// <param name="Grey">sRGB level, 0 black.</param>
public readonly record struct PrintedArea(PlaneRect Place, byte Grey);

/// <summary>A line of words on the print, in mm of the target.</summary>
/// <param name="At">Left end of the baseline.</param>
/// <param name="HeightMm">Size of the type.</param>
public readonly record struct PrintedWords(PlanePoint At, double HeightMm, string Words);

/// <summary>A stiff piece of paper whose print is known: the whole sheet, or one loose card.</summary>
/// <param name="Print">The two signs that its codes carry.</param>
/// <param name="Number">Of a card, 1 to 4; 1 for a sheet.</param>
/// <param name="Origin">Its corner on the page that is printed, in mm.</param>
/// <param name="Neutrals">Patches of neutral grey, from light to dark.</param>
public sealed record DatumTarget(
    string Print,
    int Number,
    SizeMm Size,
    PlanePoint Origin,
    ImmutableArray<PrintedCode> Codes,
    ImmutableArray<PrintedArea> Areas,
    ImmutableArray<PrintedArea> Neutrals,
    ImmutableArray<PrintedWords> Words,
    ImmutableArray<PrintedEdge> Edges);

/// <summary>What is printed on one page: a datum sheet, or four loose cards.</summary>
/// <param name="Name">As people say it.</param>
/// <param name="Page">The paper.</param>
public sealed record DatumLayout(string Name, SizeMm Page, ImmutableArray<DatumTarget> Targets, ImmutableArray<PrintedArea> CutMarks)
{
    /// <summary>Length of the check bars.</summary>
    public const double BarMm = 100;

    private static readonly ImmutableArray<DatumLayout> Sheets = [.. Enum.GetValues<DatumPaper>().Select(SheetLayout.Of)];

    /// <summary>The sheet on a paper.</summary>
    public static DatumLayout Sheet(DatumPaper paper) => Sheets[(int)paper];

    /// <summary>Four loose corner cards on one A4.</summary>
    public static DatumLayout Cards { get; } = CardLayout.Make();

    /// <summary>Every code there is on any of our prints.</summary>
    internal static ImmutableArray<PrintedCode> Codes { get; } = [.. Sheets.Append(Cards).SelectMany(l => l.Targets).SelectMany(t => t.Codes)];
}

using System.Collections.Immutable;

namespace Pairbench.Imaging.Rows;

/// <summary>One mark of a row.</summary>
/// <param name="Along">Position along the guide in mm.</param>
/// <param name="Across">Offset from the guide in mm.</param>
/// <param name="Place">On the measured plane.</param>
/// <param name="Pixel">In the picture.</param>
/// <param name="Before">Pitches since the mark before: 1 for a neighbour, 2 where one is missing between; 0 for the first.</param>
/// <param name="Likeness">1 where it looks as the average of the row does.</param>
public readonly record struct RowMark(double Along, double Across, PlanePoint Place, PixelPoint Pixel, int Before, double Likeness);

/// <summary>A row of marks that repeat.</summary>
/// <param name="Pitch">Mean distance of neighbours in mm, missing ones counted.</param>
/// <param name="AlongNoise">Standard uncertainty of a mark's position along, in mm.</param>
/// <param name="AcrossNoise">Standard uncertainty of a mark's position across, in mm.</param>
/// <param name="Explained">Share of the variation in the row's band that marks alike account for: below 0.1 or so the row is hardly seen.</param>
/// <param name="Jitter">Standard deviation of neighbours' distances over the pitch, as first found.</param>
public sealed record FoundRow(double Pitch, ImmutableArray<RowMark> Marks, double AlongNoise, double AcrossNoise, double Explained, double Jitter)
{
    /// <summary>Marks missing between others.</summary>
    public int Missing => Marks.Sum(m => Math.Max(0, m.Before - 1));
}

using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Pairbench.Imaging;

namespace Pairbench.Footwear.Seams;

/// <summary>Evidence of the seams examination: rows of stitches in one photograph.</summary>
public sealed record SeamsEvidence(
    EvidencePhoto Photo,
    [MinLength(1), MaxLength(60)] ImmutableArray<RowOf> Rows);

/// <summary>A row of stitches.</summary>
/// <param name="Path">A rough path along the row, within about 1.5 mm of it.</param>
/// <param name="Edge">The panel edge that the margin is measured to.</param>
/// <param name="PitchMm">Nominal pitch; pitches far from it are not looked for.</param>
/// <param name="Twin">Id of the other row of a double row.</param>
public sealed record RowOf(
    [RegularExpression(Id.Pattern)] string Id,
    [MinLength(2), MaxLength(2000), Description("a rough path along the row [[x, y], ...]")] ImmutableArray<PixelPoint> Path,
    [MinLength(2), MaxLength(2000), Description("the panel edge [[x, y], ...]")] ImmutableArray<PixelPoint> Edge = default,
    [Range(1.2, 6.5)] double? PitchMm = null,
    string? Twin = null,
    string? Component = null,
    Side? Side = null)
{
    public ImmutableArray<PixelPoint> Edge { get => field.OrEmpty(); init; } = Edge;
}

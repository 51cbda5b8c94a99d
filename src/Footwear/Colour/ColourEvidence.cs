using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;
using Pairbench.Imaging.Colour;
using Pairbench.Imaging.Geometry;

namespace Pairbench.Footwear.Colour;

/// <summary>Evidence of the colour examination: patches of one photograph.</summary>
/// <param name="Pairs">Two patch ids each, the reference first; where it is left out, every patch against the first.</param>
/// <param name="Neutral">The card that white and level are taken from.</param>
/// <param name="Neutrals">Further neutral places, for the evenness of the light. Without a colour of its own, one that is as light as the card is taken to be of the card's stuff.</param>
/// <param name="White">The white that L*a*b* refers to, here and in what is typed.</param>
/// <param name="VisualGrades">Grades of the grey scale given by eye; they go before the camera's.</param>
/// <param name="Rendering">How the picture was made: to please, as phones do, or plainly, as scanners do.</param>
public sealed record ColourEvidence(
    ColourPhoto Photo,
    [MinLength(1), MaxLength(200)] ImmutableArray<PatchOf> Patches,
    [MaxLength(400), Description("pairs of patch ids [[\"left\", \"right\"], ...], the reference first")] ImmutableArray<ImmutableArray<string>> Pairs = default,
    NeutralOf? Neutral = null,
    [MaxLength(50)] ImmutableArray<NeutralOf> Neutrals = default,
    ReferenceWhite White = ReferenceWhite.D65,
    [MaxLength(400)] ImmutableArray<VisualGrade> VisualGrades = default,
    PictureRendering Rendering = PictureRendering.Pleasing)
{
    public ImmutableArray<ImmutableArray<string>> Pairs { get => field.OrEmpty(); init; } = Pairs;
    public ImmutableArray<NeutralOf> Neutrals { get => field.OrEmpty(); init; } = Neutrals;
    public ImmutableArray<VisualGrade> VisualGrades { get => field.OrEmpty(); init; } = VisualGrades;

    /// <summary>The card and the further neutrals, with their places in the evidence.</summary>
    internal IEnumerable<(NeutralOf Neutral, string Where)> AllNeutrals =>
        (Neutral is { } card ? [(card, "neutral")] : Enumerable.Empty<(NeutralOf, string)>()).Concat(Neutrals.Select((n, i) => (n, $"neutrals[{i}]")));

    /// <summary>The pairs that are looked at, the reference first.</summary>
    internal ImmutableArray<ImmutableArray<string>> LookedAt => Pairs.IsEmpty ? [.. Patches.Skip(1).Select(p => ImmutableArray.Create(Patches[0].Id, p.Id))] : Pairs;

    /// <summary>The grades by eye of a pair, in either order.</summary>
    internal ImmutableArray<VisualGrade> GradesOf(string first, string second) => [.. VisualGrades.Where(g => g.IsOf(first, second))];
}

/// <summary>The picture; colour needs no millimetres.</summary>
public sealed record ColourPhoto([MinLength(1), Description("the file name of a picture")] string File, PhotoScale? Scale = null);

/// <summary>A neutral place.</summary>
/// <param name="Lab">Its measured colour; where it is left out, it is taken to be without hue, and its level stays as photographed.</param>
public sealed record NeutralOf(
    [Description("[x, y, w, h] in pixels")] PixelRect Rect,
    [Description("[L, a, b]")] Lab? Lab = null);

/// <summary>A patch of one stuff.</summary>
/// <param name="Repeats">The same stuff at other places: how much they differ widens the interval.</param>
public sealed record PatchOf(
    [RegularExpression(Id.Pattern)] string Id,
    [Description("[x, y, w, h] in pixels")] PixelRect Rect,
    [MaxLength(50)] ImmutableArray<PixelRect> Repeats = default,
    string? Component = null,
    Side? Side = null)
{
    public ImmutableArray<PixelRect> Repeats { get => field.OrEmpty(); init; } = Repeats;
}

/// <summary>A grade of the grey scale for change in colour given by eye (ISO 105-A02).</summary>
/// <param name="Pair">The two patches of a pair, in either order: a grade has no direction.</param>
/// <param name="Grade">1 to 5 in halves.</param>
/// <param name="Illuminant">The light it was given in, such as <c>D65</c>.</param>
public sealed record VisualGrade(
    [MinLength(2), MaxLength(2), Description("two patch ids")] ImmutableArray<string> Pair,
    [Range(1.0, 5.0)] double Grade,
    [MinLength(1), Description("the light it was given in, such as D65")] string Illuminant,
    string? By = null)
{
    internal bool IsOf(string first, string second) => Pair.Contains(first) && Pair.Contains(second);
}

using System.Collections.Immutable;
using System.Globalization;

namespace Pairbench.Footwear.PairMatch;

/// <summary>Depths as stated, else as usual in the view, else unknown.</summary>
internal sealed class LandmarkDepths(PairMatchEvidence evidence, LandmarkCatalogue catalogue)
{
    private readonly ImmutableDictionary<string, LandmarkEntry> _known = catalogue.Landmarks.ToImmutableDictionary(l => l.Id, StringComparer.Ordinal);

    /// <param name="name">A landmark, or <see cref="LandmarkPlaces.Outline"/>.</param>
    public UsualDepth Of(string name) =>
        evidence.Depths?.TryGetValue(name, out var stated) == true ? new UsualDepth(stated.Value, stated.StandardUncertainty)
        : name == LandmarkPlaces.Outline ? catalogue.Outline.GetValueOrDefault(evidence.View, catalogue.Unknown)
        : IsUsual(name) ? Together(_known[name].Depths[evidence.View])
        : catalogue.Unknown;

    /// <summary>What was taken for granted of depths, a sentence each; on a scan nothing is.</summary>
    public IEnumerable<string> Assumptions()
    {
        var shoes = evidence.Shoes.ToImmutableArray();
        var photographed = shoes.Where(s => !s.Shoe.IsScan).Select(s => s.Shoe).ToImmutableArray();
        if (shoes.Length > photographed.Length)
        {
            var whose = photographed.IsEmpty ? "" : $" of the {shoes.First(s => s.Shoe.IsScan).Side} shoe";
            yield return $"Scanned: the landmarks{whose} are taken to lie on the glass, at no depth and not turned.{(photographed.IsEmpty && evidence.Depths is { Count: > 0 } ? " The stated depths are not used." : "")}";
        }

        foreach (var name in photographed.SelectMany(s => s.Landmarks.Keys).Distinct(StringComparer.Ordinal).Where(n => !IsStated(n)).Order(StringComparer.Ordinal))
        {
            yield return Taken(
                name,
                IsUsual(name) ? $"usual in a {evidence.View} view, common practice, no source"
                : _known.ContainsKey(name) ? $"the catalogue has no usual depth of it in a {evidence.View} view"
                : "the landmark is not in the catalogue");
        }

        if (photographed.Any(s => !s.Outline.IsEmpty) && !IsStated(LandmarkPlaces.Outline))
        {
            yield return Taken("the outline", catalogue.Outline.ContainsKey(evidence.View) ? "common practice, no source" : $"the catalogue has no usual depth of it in a {evidence.View} view", Of(LandmarkPlaces.Outline));
        }
    }

    /// <summary>A wide shoe has all its landmarks deeper than usual, by as much again as each may be by itself (common practice, no source).</summary>
    private static UsualDepth Together(UsualDepth usual) => usual with { TogetherMm = usual.StandardUncertaintyMm };

    private string Taken(string name, string why, UsualDepth? depth = null)
    {
        var usual = depth ?? Of(name);
        return string.Create(CultureInfo.InvariantCulture, $"The depth of {name} is not stated: {usual.DepthMm:0.#} mm towards the camera, standard uncertainty {usual.StandardUncertaintyMm:0.#} mm{(usual.TogetherMm > 0 ? $", and {usual.TogetherMm:0.#} mm for all landmarks together" : "")}, is taken ({why}).");
    }

    private bool IsStated(string name) => evidence.Depths?.ContainsKey(name) == true;

    private bool IsUsual(string name) => _known.TryGetValue(name, out var entry) && entry.Depths.ContainsKey(evidence.View);
}

using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Imaging;
using Pairbench.Measuring;

namespace Pairbench.Footwear.PairMatch;

/// <summary>What is wrong with the evidence of a pair match, all of it at once.</summary>
internal static class PairMatchChecks
{
    /// <exception cref="FaultsException">Anything is wrong.</exception>
    public static void Check(PairMatchEvidence evidence)
    {
        var (features, calliper) = (evidence.Features, evidence.Calliper);
        var faults = new List<Fault>();
        if (evidence.Left is null != evidence.Right is null)
        {
            faults.Add(new Fault(evidence.Left is null ? "left" : "right", "is missing", "give the same view of both shoes"));
        }

        if (evidence.Left is null && evidence.Right is null && calliper.IsEmpty)
        {
            faults.Add(new Fault("left", "is missing", "give left and right with a photograph and landmarks, or calliper readings"));
        }

        foreach (var (side, shoe) in new[] { ("left", evidence.Left), ("right", evidence.Right) })
        {
            foreach (var (name, clicks) in (shoe?.Landmarks ?? ImmutableDictionary<string, ImmutableArray<PixelPoint>>.Empty).OrderBy(l => l.Key, StringComparer.Ordinal))
            {
                if (!Id.IsId(name))
                {
                    faults.Add(new Fault($"{side}.landmarks", $"has the name '{name}'", "use small letters, digits and single hyphens, such as toe-cap-edge"));
                }

                if (clicks.IsEmpty)
                {
                    faults.Add(new Fault($"{side}.landmarks.{name}", "has no click", "click it at least once, better three times"));
                }
            }

            foreach (var (feature, i) in features.Select((f, i) => (f, i)).Where(_ => shoe is not null))
            {
                foreach (var (end, name) in new[] { ("from", feature.From), ("to", feature.To) }.Where(e => !shoe!.Landmarks.ContainsKey(e.Item2)))
                {
                    faults.Add(new Fault($"features[{i}].{end}", $"'{name}' is no landmark of the {side} shoe", "click it on both shoes, or name one of theirs"));
                }
            }
        }

        if (evidence.Left is null && !features.IsEmpty)
        {
            faults.Add(new Fault("features", "need landmarks on photographs", "give left and right, or leave features out"));
        }

        faults.AddRange(features.Select((f, i) => (f, i)).Where(f => f.f.From == f.f.To).Select(f => new Fault($"features[{f.i}].to", $"'{f.f.To}' is where the feature begins", "name two different landmarks")));
        faults.AddRange((evidence.Depths ?? ImmutableDictionary<string, Measured>.Empty).Keys
            .Where(n => n != LandmarkPlaces.Outline && evidence.Shoes.All(s => !s.Shoe.Landmarks.ContainsKey(n)))
            .Order(StringComparer.Ordinal)
            .Select(n => new Fault($"depths.{n}", "is no landmark of either shoe", $"name one that is clicked, or {LandmarkPlaces.Outline}")));
        var snapped = evidence.Snap?.Landmarks ?? [];
        faults.AddRange(snapped.Select((name, i) => (name, i)).Where(n => evidence.Left?.Landmarks.ContainsKey(n.name) != true && evidence.Right?.Landmarks.ContainsKey(n.name) != true)
            .Select(n => new Fault($"snap.landmarks[{n.i}]", $"'{n.name}' is no landmark of either shoe", "click it, or name one that is clicked")));
        faults.AddRange(Twice(features.Select((f, i) => (f.Id, $"features[{i}].id"))).Concat(Twice(calliper.Select((c, i) => (c.Feature, $"calliper[{i}].feature")))));
        foreach (var (readings, i) in calliper.Select((c, i) => (c, i)))
        {
            foreach (var (side, values) in new[] { ("left", readings.Left), ("right", readings.Right) }.Where(v => v.Item2.Any(x => !(x > 0 && x < 2000))))
            {
                faults.Add(new Fault($"calliper[{i}].{side}", "has a reading that is no length of a shoe", "give millimetres above 0 and below 2000"));
            }
        }

        if (faults.Count > 0)
        {
            throw new FaultsException(faults);
        }
    }

    private static IEnumerable<Fault> Twice(IEnumerable<(string Id, string Place)> names) => names
        .GroupBy(n => n.Id, StringComparer.Ordinal)
        .SelectMany(g => g.Skip(1).Select(n => new Fault(n.Place, $"'{g.Key}' stands twice", "name each feature once")));

    public static IEnumerable<Fault> Outside(ShoeView shoe, PixelSize size, string side) => Places(shoe)
        .Where(l => !(l.Point.X >= 0 && l.Point.Y >= 0 && l.Point.X <= size.Width && l.Point.Y <= size.Height))
        .Select(l => new Fault(
            string.Create(CultureInfo.InvariantCulture, $"{side}.{l.Name}[{l.Index}]"),
            string.Create(CultureInfo.InvariantCulture, $"[{l.Point.X:0.#}, {l.Point.Y:0.#}] lies outside the picture of {size.Width} x {size.Height}"),
            "click on the picture"));

    private static IEnumerable<(string Name, PixelPoint Point, int Index)> Places(ShoeView shoe) => shoe.Landmarks
        .OrderBy(l => l.Key, StringComparer.Ordinal)
        .SelectMany(l => l.Value.Select((p, i) => ($"landmarks.{l.Key}", p, i)))
        .Concat(shoe.Outline.Select((p, i) => ("outline", p, i)));
}

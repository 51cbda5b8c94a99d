using System.Collections.Immutable;
using Pairbench.Imaging;
using Pairbench.Measuring;

namespace Pairbench.Footwear.PairMatch;

/// <summary>
/// Left against right: lengths between landmarks on both shoes with their differences, and the mirrored right shoe laid on the left. Landmarks carry the depth at which they lie, and a
/// shoe may be turned on the bench; both stand in the budget.
/// </summary>
public sealed class PairMatchExamination : Examination<PairMatchEvidence>
{
    public override string Name => "pair-match";

    public override string Title => "Pair match";

    public override int Order => 210;

    public override bool LooksAtSubject => false;

    public override Outcome Examine(PairMatchEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var features = evidence.Features;
        var calliper = evidence.Calliper;
        PairMatchChecks.Check(evidence);
        var catalogue = surroundings.Catalogue.Read<LandmarkCatalogue>(LandmarkCatalogue.File);
        var depths = new LandmarkDepths(evidence, catalogue);
        var placed = Shoes(evidence, surroundings.Photos, depths);
        var turn = placed is { } p ? TurnFit.Of(p.Left, p.Right, evidence.TurnSigmaDeg) : null;
        var shoes = placed is { } q && turn is not null && evidence.Turn == TurnOnBench.Solved ? (turn.Straight(q.Left), turn.Straight(q.Right)) : placed;
        cancellation.ThrowIfCancellationRequested();

        var byHand = new CalliperLengths(calliper, surroundings.Entry);
        var seen = Seen(shoes, features);
        var figures = new List<Figure>();
        foreach (var id in features.Select(f => f.Id).Concat(calliper.Select(c => c.Feature)).Distinct(StringComparer.Ordinal))
        {
            var length = byHand.Lengths.TryGetValue(id, out var read) ? read : seen[id];
            var label = catalogue.Features.FirstOrDefault(f => f.Id == id)?.Label ?? id.Replace('-', ' ');
            figures.Add(new Figure($"{id}.left", $"{Capital(label)}, left", length.Left));
            figures.Add(new Figure($"{id}.right", $"{Capital(label)}, right", length.Right));
            figures.Add(new Figure($"{id}.difference", $"{Capital(label)}, left less right", length.Difference));
        }

        var matched = shoes is { } s ? Matched(s.Left, s.Right) : [];
        var fit = matched.Length >= MirrorFit.FewestLandmarks && MirrorFit.AreApart(matched) ? MirrorFit.Of(matched) : null;
        var outline = fit is not null && shoes is { Left.Outline.Length: > 0, Right.Outline.Length: > 0 } drawn ? OutlineMap.Of(drawn.Left.Outline, drawn.Right.Outline, fit) : null;
        var extremes = outline is null ? null : OutlineExtremes.Of(outline, evidence.Left!.Photo.File);
        figures.AddRange(outline is null || extremes is null ? [] : OutlineWords.Figures(outline, extremes, evidence.Left!.Photo.File));
        return new Outcome
        {
            Figures = [.. figures],
            Tables = [.. Tables(fit, seen, byHand.Lengths), .. TurnWords.Tables(turn), .. outline is null ? [] : ImmutableArray.Create(OutlineWords.Table(outline, matched))],
            Plates =
            [
                .. fit is not null && shoes is { } pair ? PairMatchPlates.Of(pair.Left, pair.Right, fit, matched) : [],
                .. outline is null || extremes is null ? [] : ImmutableArray.Create(OutlinePlate.Of(outline, extremes.Largest)),
            ],
            Assumptions = [.. PairMatchWords.Assumptions(evidence, shoes, depths, fit), .. TurnWords.Assumptions(evidence, turn), .. byHand.Assumptions()],
            Cautions =
            [
                .. PairMatchWords.Cautions(evidence, features, matched, fit),
                .. TurnWords.Cautions(evidence, turn, matched.Length),
                .. PairMatchWords.NotSnapped(shoes),
                .. OutlineWords.Cautions(shoes, extremes),
                .. byHand.Cautions(),
            ],
            Basis = [.. PairMatchWords.Bases(evidence, calliper)],
        };
    }

    private static (PlacedShoe Left, PlacedShoe Right)? Shoes(PairMatchEvidence evidence, IPhotoSource photos, LandmarkDepths depths)
    {
        if (evidence is not { Left: { } left, Right: { } right })
        {
            return null;
        }

        var (first, second) = (photos.Open(left.Photo.File), photos.Open(right.Photo.File));
        var faults = PairMatchChecks.Outside(left, first.Size, "left").Concat(PairMatchChecks.Outside(right, second.Size, "right")).ToImmutableArray();
        return faults.IsEmpty
            ? (LandmarkPlaces.Of(left, first, evidence, depths.Of, "left"), LandmarkPlaces.Of(right, second, evidence, depths.Of, "right"))
            : throw new FaultsException(faults);
    }

    private static ImmutableDictionary<string, PairLength> Seen((PlacedShoe Left, PlacedShoe Right)? shoes, ImmutableArray<PairFeature> features)
    {
        if (shoes is not { } both)
        {
            return ImmutableDictionary<string, PairLength>.Empty;
        }

        var lengths = new FeatureLengths(both.Left, both.Right);
        return features.ToImmutableDictionary(f => f.Id, lengths.Of, StringComparer.Ordinal);
    }

    private static ImmutableArray<(LandmarkPlace Left, LandmarkPlace Right)> Matched(PlacedShoe left, PlacedShoe right) =>
        [.. left.Landmarks.Keys.Where(right.Landmarks.ContainsKey).Order(StringComparer.Ordinal).Select(k => (left.Landmarks[k], right.Landmarks[k]))];

    private static IEnumerable<Table> Tables(MirrorFit? fit, ImmutableDictionary<string, PairLength> seen, ImmutableDictionary<string, PairLength> read)
    {
        if (fit is not null)
        {
            yield return new Table(
                "residuals",
                "What is left between the left shoe and the mirrored right one",
                [new("landmark", "Landmark"), new("along", "Along"), new("across", "Across"), new("counts", "Counts")],
                [.. fit.Residuals.Select(r => ImmutableArray.Create<Cell>(r.Name, r.X, r.Y, Measured.Exact(Math.Round(r.Weight, 2), "")))]);
            yield return new Table(
                "fit",
                "How the mirrored right shoe was laid on the left one",
                [new("what", "What"), new("value", "Value")],
                [
                    ["Size, right less left", Measured.Exact(Math.Round(-fit.SizePercent, 3), "%")],
                    ["Turned by", Measured.Exact(Math.Round(fit.TurnDegrees, 2), "deg")],
                    ["Root mean square of what is left", Measured.Exact(Math.Round(fit.Rms, 3), "mm")],
                ]);
        }

        if (read.Keys.Where(seen.ContainsKey).Order(StringComparer.Ordinal).ToImmutableArray() is { IsEmpty: false } twice)
        {
            yield return new Table(
                "by-photograph",
                "Features read with a calliper, as the photographs have them",
                [new("feature", "Feature"), new("left", "Left"), new("right", "Right")],
                [.. twice.Select(id => ImmutableArray.Create<Cell>(id, seen[id].Left, seen[id].Right))]);
        }
    }

    private static string Capital(string words) => char.ToUpperInvariant(words[0]) + words[1..];
}

using System.Collections.Immutable;
using System.Globalization;
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

    public override Outcome Examine(PairMatchEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var features = evidence.Features.IsDefault ? [] : evidence.Features;
        var calliper = evidence.Calliper.IsDefault ? [] : evidence.Calliper;
        PairMatchChecks.Check(evidence, features, calliper);
        var catalogue = surroundings.Catalogue.Read<LandmarkCatalogue>(LandmarkCatalogue.File);
        var depths = new Depths(evidence, catalogue);
        var placed = Shoes(evidence, surroundings.Photos, depths);
        var turn = placed is { } p ? TurnFit.Of(p.Left, p.Right, evidence.TurnSigmaDeg) : null;
        var shoes = placed is { } q && turn is not null && evidence.Turn == TurnOnBench.Solved ? (turn.Straight(q.Left), turn.Straight(q.Right)) : placed;
        cancellation.ThrowIfCancellationRequested();

        var read = calliper.ToDictionary(c => c.Feature, c => Read(c, surroundings.Entry), StringComparer.Ordinal);
        var seen = shoes is { } both ? features.ToDictionary(f => f.Id, f => (Left: Length(both.Left, f), Right: Length(both.Right, f)), StringComparer.Ordinal) : [];
        var figures = new List<Figure>();
        foreach (var id in features.Select(f => f.Id).Concat(calliper.Select(c => c.Feature)).Distinct(StringComparer.Ordinal))
        {
            var (left, right) = read.TryGetValue(id, out var byHand) ? byHand : seen[id];
            var label = catalogue.Features.FirstOrDefault(f => f.Id == id)?.Label ?? id.Replace('-', ' ');
            figures.Add(new Figure($"{id}.left", $"{Capital(label)}, left", left));
            figures.Add(new Figure($"{id}.right", $"{Capital(label)}, right", right));
            figures.Add(new Figure($"{id}.difference", $"{Capital(label)}, left less right", left - right));
        }

        var matched = shoes is { } s ? Matched(s.Left, s.Right) : [];
        var fit = matched.Length >= MirrorFit.FewestLandmarks ? MirrorFit.Of(matched) : null;
        var outline = fit is not null && shoes is { Left.Outline.Length: > 0, Right.Outline.Length: > 0 } drawn ? OutlineMap.Of(drawn.Left.Outline, drawn.Right.Outline, fit) : null;
        figures.AddRange(outline is null ? [] : OutlineWords.Figures(outline, evidence.Left!.Photo.File));
        return new Outcome
        {
            Figures = [.. figures],
            Tables = [.. Tables(fit, seen, read), .. TurnWords.Tables(turn), .. outline is null ? [] : ImmutableArray.Create(OutlineWords.Table(outline, matched))],
            Plates =
            [
                .. fit is not null && shoes is { } pair ? PairMatchPlates.Of(pair.Left, pair.Right, fit, matched) : [],
                .. outline is null ? [] : ImmutableArray.Create(OutlinePlate.Of(outline)),
            ],
            Assumptions = [.. Assumptions(evidence, shoes, depths, fit), .. TurnWords.Assumptions(evidence, turn)],
            Cautions = [.. Cautions(evidence, features, matched, fit), .. TurnWords.Cautions(evidence, turn, matched.Length), .. SnapWords(shoes), .. OutlineWords.Cautions(shoes, outline)],
            Basis =
            [
                new Basis(BasisKind.Standard, "JCGM 100, 5.2 (correlated inputs): the scale and the depth that both shoes share nearly cancel in a difference", "2008"),
                new Basis(BasisKind.Practice, "usual depths of landmarks and turn of a shoe on the bench: common practice, no source"),
            ],
        };
    }

    private static (PlacedShoe Left, PlacedShoe Right)? Shoes(PairMatchEvidence evidence, IPhotoSource photos, Depths depths)
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

    /// <summary>The length of a feature on one shoe, mm.</summary>
    internal static Measured Length(PlacedShoe shoe, PairFeature feature)
    {
        var (from, to) = (shoe.Landmarks[feature.From], shoe.Landmarks[feature.To]);
        return feature.Along switch
        {
            Along.X => Size(to.X - from.X),
            Along.Y => Size(to.Y - from.Y),
            _ => Propagation.Of("mm", v => double.Hypot(v[0] - v[2], v[1] - v[3]), to.X, to.Y, from.X, from.Y),
        };
    }

    private static Measured Size(Measured difference) => difference.Value < 0 ? -1 * difference : difference;

    /// <summary>Means of repeats; the error of one instrument is the same in both and falls out of the difference.</summary>
    private static (Measured Left, Measured Right) Read(CalliperReadings readings, string entry)
    {
        var pooled = Pooled(readings);
        var instrument = readings.Instrument is { } name ? $"instrument:{name}" : $"instrument:unnamed:{entry}/{readings.Feature}";
        Measured Of(ImmutableArray<double> values, string side)
        {
            var budget = new List<Contribution> { new(instrument, Evaluation.TypeB, readings.StandardUncertaintyMm) };
            budget.Add(pooled is { } p
                ? new Contribution($"readings:{entry}/{readings.Feature}#{side}", Evaluation.TypeA, p.Deviation / Math.Sqrt(values.Length), p.DegreesOfFreedom)
                : new Contribution($"handling:{entry}/{readings.Feature}/{side}", Evaluation.TypeB, UnrepeatedMm));
            return Measured.Of(values.Average(), "mm", budget);
        }

        return (Of(readings.Left, "left"), Of(readings.Right, "right"));
    }

    /// <summary>What one reading of a soft edge by hand may be off by (common practice, no source).</summary>
    private const double UnrepeatedMm = 0.3;

    private static (double Deviation, int DegreesOfFreedom)? Pooled(CalliperReadings readings)
    {
        var freedom = readings.Left.Length + readings.Right.Length - 2;
        if (freedom < 1)
        {
            return null;
        }

        static double Squares(ImmutableArray<double> values)
        {
            var mean = values.Average();
            return values.Sum(v => (v - mean) * (v - mean));
        }

        // Readings that agree to the last digit still have a last digit.
        const double step = 0.01;
        return (Math.Max(Math.Sqrt((Squares(readings.Left) + Squares(readings.Right)) / freedom), step / Math.Sqrt(12)), freedom);
    }

    private static ImmutableArray<(LandmarkPlace Left, LandmarkPlace Right)> Matched(PlacedShoe left, PlacedShoe right) =>
        [.. left.Landmarks.Keys.Where(right.Landmarks.ContainsKey).Order(StringComparer.Ordinal).Select(k => (left.Landmarks[k], right.Landmarks[k]))];

    private static IEnumerable<Table> Tables(MirrorFit? fit, Dictionary<string, (Measured Left, Measured Right)> seen, Dictionary<string, (Measured Left, Measured Right)> read)
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

        if (read.Keys.Where(seen.ContainsKey).ToImmutableArray() is { IsEmpty: false } twice)
        {
            yield return new Table(
                "by-photograph",
                "Features read with a calliper, as the photographs have them",
                [new("feature", "Feature"), new("left", "Left"), new("right", "Right")],
                [.. twice.Select(id => ImmutableArray.Create<Cell>(id, seen[id].Left, seen[id].Right))]);
        }
    }

    private static IEnumerable<string> Assumptions(PairMatchEvidence evidence, (PlacedShoe Left, PlacedShoe Right)? shoes, Depths depths, MirrorFit? fit)
    {
        if (shoes is { } pair)
        {
            foreach (var words in pair.Left.Assumptions.Concat(pair.Right.Assumptions).Distinct(StringComparer.Ordinal))
            {
                yield return words;
            }

            foreach (var name in evidence.Left!.Landmarks.Keys.Union(evidence.Right!.Landmarks.Keys).Where(n => !depths.IsStated(n)).Order(StringComparer.Ordinal))
            {
                var usual = depths.Of(name);
                yield return string.Create(CultureInfo.InvariantCulture, $"The depth of {name} is not stated: {usual.DepthMm:0.#} mm towards the camera, standard uncertainty {usual.StandardUncertaintyMm:0.#} mm, is taken ({(depths.IsKnown(name) ? $"usual in a {evidence.View} view, common practice, no source" : "the landmark is not in the catalogue")}).");
            }
        }

        if (shoes is { } s && (s.Left.Outline.Length > 0 || s.Right.Outline.Length > 0) && !depths.IsStated(LandmarkPlaces.Outline))
        {
            var usual = depths.Of(LandmarkPlaces.Outline);
            yield return string.Create(CultureInfo.InvariantCulture, $"The depth of the outline is not stated: {usual.DepthMm:0.#} mm towards the camera, standard uncertainty {usual.StandardUncertaintyMm:0.#} mm, is taken (common practice, no source).");
        }

        if (fit is not null)
        {
            yield return "The overlay shows both shoes in the plane where most landmarks lie; what lies nearer or further is shifted in it.";
        }
    }

    private static IEnumerable<string> Cautions(PairMatchEvidence evidence, ImmutableArray<PairFeature> features, ImmutableArray<(LandmarkPlace Left, LandmarkPlace Right)> matched, MirrorFit? fit)
    {
        if (evidence.Left is not null && features.Length > 0 && evidence.Left.Landmarks.Values.Concat(evidence.Right!.Landmarks.Values).All(c => c.Length == 1))
        {
            yield return "No landmark was clicked more than once: the spread of a click is the stated one, not seen. Three clicks each are better.";
        }

        if (evidence.Left is not null && fit is null)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"The two shoes share {matched.Length} landmarks: at least {MirrorFit.FewestLandmarks} are needed to lay one on the other.");
        }

        if (fit?.Residuals.Where(r => r.Weight < 0.4).Select(r => r.Name).ToImmutableArray() is { IsEmpty: false } odd)
        {
            yield return $"These landmarks do not fit the rest and count less: {string.Join(", ", odd)}. Look whether they were clicked on the same place of both shoes.";
        }
    }

    private static IEnumerable<string> SnapWords((PlacedShoe Left, PlacedShoe Right)? shoes)
    {
        foreach (var (side, shoe) in shoes is { } pair ? new[] { ("left", pair.Left), ("right", pair.Right) } : [])
        {
            if (!shoe.NotSnapped.IsEmpty)
            {
                yield return $"No single edge stands beside these landmarks of the {side} shoe, so that they stay where they were clicked: {string.Join(", ", shoe.NotSnapped)}.";
            }
        }
    }

    private static string Capital(string words) => char.ToUpperInvariant(words[0]) + words[1..];

    /// <summary>Depths as stated, else as usual in the view, else unknown.</summary>
    private sealed class Depths(PairMatchEvidence evidence, LandmarkCatalogue catalogue)
    {
        private readonly ImmutableDictionary<string, LandmarkEntry> _known = catalogue.Landmarks.ToImmutableDictionary(l => l.Id, StringComparer.Ordinal);

        public bool IsStated(string name) => evidence.Depths?.ContainsKey(name) == true;

        public bool IsKnown(string name) => _known.TryGetValue(name, out var entry) && entry.Depths.ContainsKey(evidence.View);

        public UsualDepth Of(string name) =>
            evidence.Depths?.TryGetValue(name, out var stated) == true ? new UsualDepth(stated.Value, stated.StandardUncertainty)
            : name == LandmarkPlaces.Outline ? catalogue.Outline.GetValueOrDefault(evidence.View, catalogue.Unknown)
            : IsKnown(name) ? _known[name].Depths[evidence.View]
            : catalogue.Unknown;
    }
}

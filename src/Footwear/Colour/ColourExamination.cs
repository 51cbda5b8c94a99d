using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear.Instruments;
using Pairbench.Imaging;
using Pairbench.Imaging.Colour;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Colour;

/// <summary>
/// Colour differences between patches of one photograph: CIEDE2000 with its coordinates, and the grade of the grey scale (ISO 105-A05), with uncertainty from
/// noise, light and repeats.
/// </summary>
public sealed class ColourExamination : Examination<ColourEvidence>
{
    /// <summary>How far the level of light is known, relative: from a card of known colour, and as photographed.</summary>
    private const double LevelOfCard = 0.02;
    private const double LevelUnknown = 0.10;

    /// <summary>Standard uncertainty of each coordinate of a single colour without a chart (common practice, no source).</summary>
    private const double Absolute = 1.5;

    /// <summary>How far pieces of one card differ, relative.</summary>
    private const double CardToCard = 0.01;

    /// <summary>Standard uncertainty of a stated L* (common practice, no source).</summary>
    private const double StatedLab = 0.3;

    /// <summary>From this difference of L* on two neutrals tell something of the tone curve.</summary>
    private const double DifferentLightness = 10;

    public override string Name => "colour";

    public override string Title => "Colour";

    public override int Order => 230;

    public override bool LooksAtSubject => false;

    public override Outcome Examine(ColourEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var photo = surroundings.Photos.Open(evidence.Photo.File);
        ColourChecks.Marks(evidence, photo.Size);
        cancellation.ThrowIfCancellationRequested();
        var picture = photo.Decode();
        var neutrals = Neutrals.Of(evidence, picture);
        var field = LightField.Of(neutrals.Patches, photo.Size, evidence.Rendering.Contrast(), cancellation);
        var readings = evidence.Patches.Select((patch, i) => Read(patch, $"patches[{i}]", picture, field, evidence.White, surroundings.Entry)).ToImmutableArray();
        ColourChecks.Seen(readings);
        cancellation.ThrowIfCancellationRequested();

        var common = Common(readings, field, evidence);
        var pairs = Pairs(evidence, readings, common);
        var figures = new List<Figure>();
        var rows = ImmutableArray.CreateBuilder<ImmutableArray<Cell>>();
        foreach (var pair in pairs)
        {
            cancellation.ThrowIfCancellationRequested();
            var own = $"near-zero:{surroundings.Entry}/{pair.Name}";
            var (difference, equalReads) = pair.Size(Ciede2000.Between, "", own, d => d);
            var (grade, _) = pair.Size(GreyScales, "grade", $"{own}/grade", GreyScale.Grade);
            var words = $"{pair.Second.Patch.Id} less {pair.First.Patch.Id}";
            figures.Add(new Figure($"{pair.Name}.delta-e00", $"Colour difference dE00, {words}", difference));
            figures.Add(new Figure($"{pair.Name}.delta-l", $"Lightness dL*, {words}", pair.Coordinate(d => d.L)));
            figures.Add(new Figure($"{pair.Name}.delta-a", $"Red to green da*, {words}", pair.Coordinate(d => d.A)));
            figures.Add(new Figure($"{pair.Name}.delta-b", $"Yellow to blue db*, {words}", pair.Coordinate(d => d.B)));
            figures.AddRange(Grades(evidence, pair, grade, surroundings.Entry));
            rows.Add([pair.Name, pair.Words, GreyScale.Step(GreyScale.Difference(pair.First.Colour, pair.Second.Colour)), string.Create(CultureInfo.InvariantCulture, $"{equalReads:0.00}")]);
        }

        var fromLight = MostFromLight(pairs);
        return new Outcome
        {
            Figures = [.. figures],
            Tables =
            [
                new Table("pairs", "What the pairs show", [new("pair", "Pair"), new("words", "Seen"), new("step", "Grey scale step by the camera"), new("equal", "Equal colours would read dE00")], rows.ToImmutable()),
                PatchTable(readings, common, evidence.White, GradedNeutrals(evidence) > 1),
            ],
            Plates = [ColourPlates.Patches(photo, evidence), ColourPlates.Swatches(pairs)],
            Assumptions = [.. neutrals.Assumptions, .. Assumptions(evidence)],
            Cautions = [.. ColourCautions.Of(evidence, readings, pairs, [.. figures], fromLight)],
            Basis =
            [
                new Basis(BasisKind.Standard, "ISO/CIE 11664-6, CIEDE2000 colour-difference formula", "2014"),
                new Basis(BasisKind.Standard, "ISO 105-A05, instrumental assessment of change in colour", "1996"),
                new Basis(BasisKind.Standard, "IEC 61966-2-1, sRGB", "1999"),
                new Basis(BasisKind.Practice, "fall of bench light, rendering of a camera: common practice, no source"),
            ],
        };
    }

    private static void GreyScales(ReadOnlySpan<Lab> first, ReadOnlySpan<Lab> second, Span<double> differences)
    {
        for (var i = 0; i < first.Length; i++)
        {
            differences[i] = GreyScale.Difference(first[i], second[i]);
        }
    }

    private static PatchReading Read(PatchOf patch, string where, RgbImage picture, LightField field, ReferenceWhite white, string entry)
    {
        var rects = patch.Repeats.Insert(0, patch.Rect);
        var places = rects.Select(r => PatchBlocks.Of(picture, r.X, r.Y, r.W, r.H)
            ?? throw new FaultsException(new Fault($"{where}.rect", "holds no pixel", "draw a larger rectangle"))).ToImmutableArray();
        return PatchReading.Of(patch, places, field, white, $"{entry}/{patch.Id}");
    }

    /// <summary>For each patch, how the causes of the whole photograph move it; every patch has the same causes in the same order.</summary>
    private static ImmutableArray<ImmutableArray<ColourShift>> Common(ImmutableArray<PatchReading> readings, LightField field, ColourEvidence evidence)
    {
        var factors = field.Factors([.. readings.Select(r => r.Seen)]);
        var mixing = CameraRendering.Mixing(evidence.Rendering);
        var level = evidence.AllNeutrals.Any(n => n.Neutral.Lab is not null) ? LevelOfCard : LevelUnknown;
        return [.. readings.Select((r, p) =>
        {
            Lab Moved(LinearRgb by) => Srgb.ToLab(r.Light * new LinearRgb(1 + by.Red, 1 + by.Green, 1 + by.Blue), evidence.White) - r.Colour;
            return factors
                .Select((f, k) => new ColourShift($"{(f.IsTone ? "tone" : "light")}:{evidence.Photo.File}#{k + 1}", Evaluation.TypeB, Moved(f.Places[p])))
                .Concat(mixing.Select(m => new ColourShift($"{m.Cause}:{evidence.Photo.File}", Evaluation.TypeB, Srgb.ToLab(m.Of(r.Light), evidence.White) - r.Colour)))
                .Append(new ColourShift($"level:{evidence.Photo.File}", Evaluation.TypeB, Moved(new LinearRgb(level, level, level))))
                .ToImmutableArray();
        })];
    }

    private static ImmutableArray<PairDifference> Pairs(ColourEvidence evidence, ImmutableArray<PatchReading> readings, ImmutableArray<ImmutableArray<ColourShift>> common)
    {
        var at = readings.Select((r, i) => (r.Patch.Id, i)).ToDictionary(r => r.Id, r => r.i, StringComparer.Ordinal);
        return [.. evidence.LookedAt.Select(pair =>
        {
            var (a, b) = (at[pair[0]], at[pair[1]]);
            var shared = common[a].Zip(common[b], (x, y) => y with { Shift = y.Shift - x.Shift });
            ImmutableArray<ColourShift> all =
            [
                .. shared,
                .. readings[a].Own.Select(s => s with { Shift = -1 * s.Shift }),
                .. readings[b].Own,
            ];
            return new PairDifference(readings[a], readings[b], [.. all.Where(s => s.Shift.Length > 1e-9)]);
        })];
    }

    /// <summary>A grade given by eye goes before the camera's, which stays beside it under a name of its own.</summary>
    private static IEnumerable<Figure> Grades(ColourEvidence evidence, PairDifference pair, Measured camera, string entry)
    {
        var given = evidence.GradesOf(pair.First.Patch.Id, pair.Second.Patch.Id);
        if (given.IsEmpty)
        {
            yield return new Figure($"{pair.Name}.grey-scale", $"Grey scale by the camera, {pair.Name}", camera);
            yield break;
        }

        var eye = GradeByEye.Of([.. given.Select(g => g.Grade)], GradeByEye.Graders(given.Select(g => g.By)), 1, 5, 0.5, "grade", $"{entry}/{pair.Name}");
        yield return new Figure($"{pair.Name}.grey-scale", $"Grey scale by eye in {string.Join(", ", given.Select(g => g.Illuminant).Distinct())}, {pair.Name}", eye);
        yield return new Figure($"{pair.Name}.grey-scale-camera", $"Grey scale by the camera, {pair.Name}", camera);
    }

    private static Table PatchTable(ImmutableArray<PatchReading> readings, ImmutableArray<ImmutableArray<ColourShift>> common, ReferenceWhite white, bool toned)
    {
        Cell Coordinate(int i, Func<Lab, double> of, string name) => Measured.Of(of(readings[i].Colour), "", [
            .. common[i].Concat(readings[i].Own).Select(s => new Contribution(s.Cause, s.Evaluation, of(s.Shift), s.DegreesOfFreedom)),
            new Contribution($"camera-colour:{name}", Evaluation.TypeB, Absolute)]);
        return new Table(
            "patches",
            $"Patches in CIE L*a*b*, {white}, 2 degree observer; {(toned ? "put back by the tone curve that the neutrals tell" : "as this camera renders them")}",
            [new("patch", "Patch"), new("l", "L*"), new("a", "a*"), new("b", "b*"), new("screen", "On a screen")],
            [.. readings.Select((r, i) => ImmutableArray.Create<Cell>(r.Patch.Id, Coordinate(i, c => c.L, "l"), Coordinate(i, c => c.A, "a"), Coordinate(i, c => c.B, "b"), Srgb.ToHex(r.Light)))]);
    }

    /// <summary>Standard uncertainty that the light puts on a coordinate of a difference, the largest of all pairs.</summary>
    private static double MostFromLight(ImmutableArray<PairDifference> pairs) => pairs.Length == 0 ? 0 : pairs.Max(p =>
    {
        var light = p.Shifts.Where(s => s.Cause.StartsWith("light:", StringComparison.Ordinal)).Sum(s => s.Shift.Length * s.Shift.Length);
        return Math.Sqrt(light / 3);
    });

    private static IEnumerable<string> Assumptions(ColourEvidence evidence)
    {
        yield return $"The picture is taken to be sRGB{(GradedNeutrals(evidence) > 1 ? "" : " as its camera rendered it")}; L*a*b* refers to {evidence.White} and the 2 degree observer.";
        yield return "Both patches of a pair lie at the same angle to light and camera; the program cannot see that.";
        yield return evidence.Rendering.Words(GradedNeutrals(evidence));
        foreach (var (pair, given) in evidence.LookedAt.Select(p => (p, evidence.GradesOf(p[0], p[1]))).Where(p => p.Item2.Select(g => g.Grade).Distinct().Count() == 1))
        {
            yield return $"{pair[0]}..{pair[1]}: {GradeByEye.Assumption(GradeByEye.Graders(given.Select(g => g.By)))}.";
        }

        if (evidence.Pairs.IsEmpty && evidence.Patches.Length > 1)
        {
            yield return $"No pairs are named: each patch is held against {evidence.Patches[0].Id}.";
        }
    }

    /// <summary>How many neutrals of stated colour differ so much in lightness that they tell something of the tone curve.</summary>
    private static int GradedNeutrals(ColourEvidence evidence)
    {
        var (count, last) = (0, double.NegativeInfinity);
        foreach (var lightness in evidence.AllNeutrals.Select(n => n.Neutral.Lab?.L).OfType<double>().Order())
        {
            (count, last) = lightness >= last + DifferentLightness ? (count + 1, lightness) : (count, last);
        }

        return count;
    }

    /// <summary>The neutrals as the light field takes them, and what was taken for granted of them.</summary>
    private sealed record Neutrals(ImmutableArray<NeutralPatch> Patches, ImmutableArray<string> Assumptions)
    {
        public static Neutrals Of(ColourEvidence evidence, RgbImage picture)
        {
            // White and level come from the first: from one of stated colour, if there is any.
            ImmutableArray<(NeutralOf Neutral, string Where)> all = [.. evidence.AllNeutrals.OrderBy(n => n.Neutral.Lab is null)];
            if (all.IsEmpty)
            {
                return new([], ["There is no neutral: white and level are the camera's own, and the light is taken to be even but for what is usual on a bench (a fall of 5 % from the middle to the edge, standard deviation)."]);
            }

            var words = new List<string>();
            var patches = new List<NeutralPatch>();
            LinearRgb stuff = default;
            for (var i = 0; i < all.Length; i++)
            {
                var (neutral, where) = all[i];
                var rect = neutral.Rect;
                var blocks = PatchBlocks.Of(picture, rect.X, rect.Y, rect.W, rect.H) ?? throw new FaultsException(new Fault(where + ".rect", "holds no pixel", "draw a larger rectangle"));
                ColourChecks.Unclipped(blocks, where);
                var level = blocks.Blocks.Average(b => b.Mean.Luminance);
                if (neutral.Lab is { } lab)
                {
                    // A stated lightness is as unsure in the dark as in the light, and so is more of little light; hue likewise. Against the first both are unsure.
                    var stated = Stated(lab);
                    patches.Add(new NeutralPatch(blocks, Srgb.FromLab(lab, evidence.White), i == 0 ? 0 : double.Hypot(CardToCard, double.Hypot(stated, Stated(all[0].Neutral.Lab!.Value))), Math.Max(NeutralPatch.UsualHue, stated / 2)));
                    stuff = i == 0 ? new LinearRgb(level, level, level) : stuff;
                }
                else if (i == 0)
                {
                    stuff = new LinearRgb(level, level, level);
                    patches.Add(new NeutralPatch(blocks, stuff, 0));
                    words.Add("The colour of the neutral is not stated: it is taken to be without hue, and the level of light stays as photographed (10 % standard uncertainty).");
                }
                else if (Math.Abs(Math.Log(level / stuff.Luminance)) < 0.25)
                {
                    patches.Add(new NeutralPatch(blocks, patches[0].Expected, CardToCard));
                    words.Add($"{where} is as light as the first neutral and is taken to be a piece of the same stuff.");
                }
                else
                {
                    patches.Add(new NeutralPatch(blocks, null, 0));
                    words.Add($"{where} is lighter or darker than the first neutral: only its evenness and its lack of hue are used.");
                }
            }

            return new([.. patches], [.. words]);

            static double Stated(Lab lab) => StatedLab * 3 / (lab.L + 16);
        }
    }
}

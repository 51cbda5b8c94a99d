using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Hardness;

/// <summary>
/// Hardness by spot: median and spread, what the standard asks for a valid reading and what is lacking, differences between spots.
/// Basis: ISO 48-4, ISO 868, ASTM D2240, JIS K 7312 as far as <c>data/hardness/scales.json</c> states them; modulus by Gent 1958.
/// </summary>
public sealed class HardnessExamination : Examination<HardnessEvidence>
{
    // Common practice, no source: a hand-held gauge that was checked holds one point; one that was not, two and a half.
    private const double CheckedGaugePoints = 1.0;
    private const double UncheckedGaugePoints = 2.5;
    private const double OperatorPoints = 1.0;
    private const double GentModelShare = 0.1;

    public override string Name => "hardness";

    public override string Title => "Hardness";

    public override int Order => 210;

    public override Outcome Examine(HardnessEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var (others, pairs) = Comparisons(evidence);
        var spots = evidence.Spots.AddRange(others);
        Check(spots, pairs);
        var scales = surroundings.Catalogue.Read<HardnessScales>(HardnessScales.File);
        var gauge = Gauge.Of(evidence, surroundings.Subject);
        var values = spots.ToImmutableDictionary(s => s.Id, s => Value(s, gauge), StringComparer.Ordinal);
        var conditions = spots.ToImmutableDictionary(s => s.Id, s => ConditionsFor(s.Scale, evidence.Standard, scales), StringComparer.Ordinal);
        var validity = spots.SelectMany(s => Validity.Of(s, conditions[s.Id], evidence)).ToImmutableArray();
        var figures = spots.SelectMany(s => Figures(s, values[s.Id])).Concat(pairs.Select(p => Difference(p, values))).ToImmutableArray();
        return new Outcome
        {
            Figures = figures,
            Tables = [ReadingsTable(spots), ValidityTable(validity)],
            Assumptions = [.. gauge.Assumptions, .. validity.Where(v => v.Met is null).Select(v => $"{v.Spot}: {v.Condition} is not stated; {v.Required} is asked.")],
            Cautions = [.. gauge.Cautions, .. validity.Where(v => v.Met == false).Select(v => $"{v.Spot}: {v.Condition} is {v.Found}; {v.Required} is asked. {v.Effect}".TrimEnd()), .. pairs.SelectMany(p => PairCautions(p, spots))],
            Basis = [.. conditions.Values.DistinctBy(c => (c.Standard, c.Edition)).Select(c => new Basis(BasisKind.Standard, c.Standard, c.Edition)), .. Gent(figures), new Basis(BasisKind.Practice, "Uncertainty of gauge and hand: common practice, no source")],
        };
    }

    /// <summary>Young's modulus in MPa from a Shore A reading (Gent 1958), valid from 20 to 80.</summary>
    public static double GentModulus(double shoreA) => 0.0981 * (56 + (7.62336 * shoreA)) / (0.137505 * (254 - (2.54 * shoreA)));

    private static IEnumerable<Basis> Gent(ImmutableArray<Figure> figures) => figures.Any(f => f.Id.EndsWith(".modulus", StringComparison.Ordinal))
        ? [new Basis(BasisKind.Handbook, "A. N. Gent, On the relation between indentation hardness and Young's modulus, Rubber Chem. Technol. 31", "1958")]
        : [];

    private static (ImmutableArray<HardnessSpot> Others, ImmutableArray<(string First, string Second)> Pairs) Comparisons(HardnessEvidence evidence)
    {
        var others = ImmutableArray.CreateBuilder<HardnessSpot>();
        var pairs = new List<(string, string)>();
        foreach (var spot in evidence.Spots.Where(s => !s.Against.IsDefault))
        {
            pairs.AddRange(spot.Against.Select(other => (spot.Id, other)));
        }

        if (evidence.Against is { ValueKind: JsonValueKind.Array } against)
        {
            foreach (var (item, index) in against.EnumerateArray().Select((e, i) => (e, i)))
            {
                var where = $"against[{index}]";
                if (item.ValueKind == JsonValueKind.Object)
                {
                    var other = ShapeReader.Read<HardnessSpot>(item, where, out var _);
                    others.Add(other);
                    pairs.AddRange(evidence.Spots.Where(s => s.Scale == other.Scale && (s.Component == other.Component || evidence.Spots.Length == 1)).Select(s => (s.Id, other.Id)));
                }
                else if (item.ValueKind == JsonValueKind.Array)
                {
                    var ids = ShapeReader.Read<ImmutableArray<string>>(item, where, out var _);
                    pairs.Add(ids.Length == 2 ? (ids[0], ids[1]) : throw new FaultsException(new Fault(where, $"names {ids.Length} spots", "name two spots")));
                }
                else
                {
                    throw new FaultsException(new Fault(where, "is neither a spot nor a pair of spot ids", "give a spot { ... } or [\"one\", \"other\"]"));
                }
            }
        }
        else if (evidence.Against is { } wrong && wrong.ValueKind != JsonValueKind.Null)
        {
            throw new FaultsException(new Fault("against", "is no list", "give a list of spots, or of pairs of spot ids"));
        }

        return (others.ToImmutable(), [.. pairs.Distinct()]);
    }

    private static void Check(ImmutableArray<HardnessSpot> spots, ImmutableArray<(string First, string Second)> pairs)
    {
        var faults = spots.GroupBy(s => s.Id, StringComparer.Ordinal).Where(g => g.Count() > 1)
            .Select(g => new Fault("spots", $"'{g.Key}' stands {g.Count()} times", "give each spot an id of its own")).ToList();
        var byId = spots.DistinctBy(s => s.Id).ToDictionary(s => s.Id, StringComparer.Ordinal);
        foreach (var (first, second) in pairs)
        {
            if (!byId.TryGetValue(first, out var a) || !byId.TryGetValue(second, out var b))
            {
                faults.Add(new Fault("against", $"compares '{first}' with '{second}', and one of them is no spot", $"use {string.Join(", ", byId.Keys.Order(StringComparer.Ordinal))}"));
            }
            else if (a.Scale != b.Scale)
            {
                faults.Add(new Fault("against", $"compares '{first}' on {a.Scale} with '{second}' on {b.Scale}", "compare readings of one scale: scales do not convert into each other"));
            }
        }

        if (faults.Count > 0)
        {
            throw new FaultsException(faults);
        }
    }

    private static Measured Value(HardnessSpot spot, Gauge gauge)
    {
        var unit = Shape.EnumWord(spot.Scale);
        var step = SmallSamples.Step(spot.Readings);
        return Measured.Of(SmallSamples.Median(spot.Readings), unit, [
            new Contribution($"readings:{spot.Id}", Evaluation.TypeA, SmallSamples.UncertaintyOfMedian(spot.Readings), spot.Readings.Length - 1),
            new Contribution($"resolution:{spot.Id}", Evaluation.TypeB, step / Math.Sqrt(12)),
            new Contribution($"durometer:{gauge.Id}", Evaluation.TypeB, gauge.HalfWidth / Math.Sqrt(3)),
            new Contribution($"hand:{gauge.Operator}", Evaluation.TypeB, OperatorPoints / Math.Sqrt(3)),
        ]);
    }

    private static IEnumerable<Figure> Figures(HardnessSpot spot, Measured value)
    {
        var name = spot.Component is { Length: > 0 } component ? $"{component} ({spot.Id})" : spot.Id;
        yield return new Figure($"{spot.Id}.hardness", $"Hardness of {name}", value);
        if (spot.Scale == HardnessScale.ShoreA && value.Value is >= 20 and <= 80)
        {
            var modulus = GentModulus(value.Value);
            var slope = (GentModulus(value.Value + 0.01) - GentModulus(value.Value - 0.01)) / 0.02;
            yield return new Figure(
                $"{spot.Id}.modulus",
                $"Young's modulus of {name}",
                Measured.Of(modulus, "MPa", value.Budget.Select(c => c with { Value = slope * c.Value }).Append(new Contribution("relation:gent-1958", Evaluation.TypeB, GentModelShare * modulus))));
        }
    }

    private static Figure Difference((string First, string Second) pair, ImmutableDictionary<string, Measured> values) =>
        new($"{pair.First}..{pair.Second}.difference", $"Hardness of {pair.First} less {pair.Second}", values[pair.First] - values[pair.Second]);

    private static IEnumerable<string> PairCautions((string First, string Second) pair, ImmutableArray<HardnessSpot> spots)
    {
        var a = spots.First(s => s.Id == pair.First);
        var b = spots.First(s => s.Id == pair.Second);
        if (a.Surface != b.Surface)
        {
            yield return $"{pair.First} was read {Words(a.Surface)} and {pair.Second} {Words(b.Surface)}: the difference says little of the material.";
        }

        if (a.DwellS != b.DwellS)
        {
            yield return $"{pair.First} and {pair.Second} were read after different times: part of the difference may be that.";
        }
    }

    private static string Words(ReadingSurface? surface) => surface switch
    {
        ReadingSurface.Bare => "bare",
        ReadingSurface.ThroughFace => "through its face",
        ReadingSurface.Cut => "on a cut",
        _ => "on a surface that is not stated",
    };

    private static ScaleConditions ConditionsFor(HardnessScale scale, string? standard, HardnessScales scales)
    {
        var candidates = scales.Scales.Where(s => s.Scale == scale).ToList();
        return standard is null
            ? candidates[0]
            : candidates.FirstOrDefault(s => standard.StartsWith(s.Standard, StringComparison.OrdinalIgnoreCase))
                ?? throw new FaultsException(new Fault("standard", $"'{standard}' is not known for {Shape.EnumWord(scale)}", $"use {string.Join(" or ", candidates.Select(c => c.Standard))}"));
    }

    private static Table ReadingsTable(ImmutableArray<HardnessSpot> spots) => new(
        "readings",
        "Readings",
        [new("spot", "Spot"), new("component", "Component"), new("count", "Readings"), new("median", "Median"), new("lowest", "Lowest"), new("highest", "Highest"), new("spread", "Standard deviation")],
        [.. spots.Select(s =>
        {
            var unit = Shape.EnumWord(s.Scale);
            return ImmutableArray.Create<Cell>(
                s.Id,
                s.Component ?? "",
                Measured.Exact(s.Readings.Length, ""),
                Measured.Exact(SmallSamples.Median(s.Readings), unit),
                Measured.Exact(s.Readings.Min(), unit),
                Measured.Exact(s.Readings.Max(), unit),
                Measured.Exact(Math.Round(SmallSamples.StandardDeviation(s.Readings), 2), unit));
        })]);

    private static Table ValidityTable(ImmutableArray<ValidityRow> rows) => new(
        "validity",
        "What the standard asks",
        [new("spot", "Spot"), new("condition", "Condition"), new("required", "Asked"), new("found", "Found"), new("met", "Met"), new("basis", "Basis")],
        [.. rows.Select(r => ImmutableArray.Create<Cell>(r.Spot, r.Condition, r.Required, r.Found, r.Met switch { true => "yes", false => "no", null => "not stated" }, r.Basis))]);

    /// <summary>The durometer and the hand that held it.</summary>
    private sealed record Gauge(string Id, string Operator, double HalfWidth, ImmutableArray<string> Assumptions, ImmutableArray<string> Cautions)
    {
        public static Gauge Of(HardnessEvidence evidence, Subject subject)
        {
            var assumptions = new List<string>();
            var cautions = new List<string>();
            var instrument = evidence.Instrument is { } id ? subject.Instruments.FirstOrDefault(i => i.Id == id) : null;
            var until = evidence.CalibrationUntil ?? instrument?.CalibrationUntil;
            var calibrated = until is { } end && (evidence.ReadOn is not { } on || on <= end);
            if (until is { } expired && evidence.ReadOn is { } day && day > expired)
            {
                cautions.Add($"The calibration of the durometer ended on {Day(expired)}, before the readings of {Day(day)}.");
            }

            if (evidence.TestBlock is { } block && Math.Abs(block.Reading - block.Nominal) > 1)
            {
                cautions.Add(string.Create(CultureInfo.InvariantCulture, $"The test block of {block.Nominal} read {block.Reading}: have the durometer adjusted before these readings are used."));
            }

            var sound = calibrated || evidence.TestBlock is { } check && Math.Abs(check.Reading - check.Nominal) <= 1;
            var missing = new[] { (evidence.Operator is null, "operator"), (evidence.Instrument is null, "instrument"), (until is null, "calibration date"), (evidence.TestBlock is null, "test-block check"), (evidence.HoursSinceMoulding is null, "hours since moulding"), (evidence.HumidityPct is null && subject.Room?.HumidityPct is null, "room humidity") }
                .Where(m => m.Item1).Select(m => m.Item2).ToList();
            if (missing.Count > 0)
            {
                assumptions.Add($"Not stated: {string.Join(", ", missing)}. A factory can contest readings without them.");
            }

            var half = sound ? CheckedGaugePoints : UncheckedGaugePoints;
            assumptions.Add(string.Create(CultureInfo.InvariantCulture, $"The durometer is taken to be right within {half} points{(sound ? "" : ", since neither calibration nor a test block vouches for it")}, the hand within {OperatorPoints} point (common practice, no source)."));
            return new Gauge(evidence.Instrument ?? "unnamed", evidence.Operator ?? "unnamed", half, [.. assumptions], [.. cautions]);
        }

        private static string Day(DateOnly date) => date.ToString("d MMM yyyy", CultureInfo.InvariantCulture);
    }
}

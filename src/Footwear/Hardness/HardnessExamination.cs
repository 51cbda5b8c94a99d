using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Pairbench.Footwear.Instruments;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Hardness;

/// <summary>
/// Median hardness of each spot in points of its scale, with the conditions of the standard held against it, and differences between spots of one scale.
/// </summary>
/// <remarks>Basis: ISO 48-4:2018, ISO 868:2003, ASTM D2240-15, JIS K 7312:1996, as data in <c>data/hardness/</c>.</remarks>
public sealed class HardnessExamination : Examination<HardnessEvidence>
{
    public override string Name => "hardness";

    public override string Title => "Hardness";

    public override int Order => 230;

    public override Outcome Examine(HardnessEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var scales = surroundings.Catalogue.Read<ScalesFile>(ScalesFile.File).Scales;
        var procedures = surroundings.Catalogue.Read<ProceduresFile>(ProceduresFile.File).Procedures;
        var thin = surroundings.Catalogue.Read<ThinPadsFile>(ThinPadsFile.File);
        var faults = new List<Fault>();
        var circumstances = Circumstances.Of(evidence.Operator, evidence.Instrument, evidence.Calibration, evidence.TestBlock, evidence.Room, evidence.HoursSinceMoulding, StandardWords(evidence), evidence.ReadOn, surroundings.Subject);

        var others = new List<HardnessSpot>();
        var unused = new List<string>();
        var wanted = Comparisons(evidence, others, unused, faults);
        var spots = new List<Read>();
        foreach (var (spot, where) in evidence.Spots.Select((s, i) => (s, $"spots[{i}]")).Concat(others.Select(o => (o, "against"))))
        {
            if (spots.Any(s => s.Spot.Id == spot.Id))
            {
                faults.Add(new Fault(where + ".id", $"'{spot.Id}' stands twice", "give each spot an id of its own"));
                continue;
            }

            var scale = scales.Single(s => s.Scale == spot.Scale);
            if (ProcedureOf(evidence.Standard, scale, procedures, faults) is { } procedure)
            {
                spots.Add(new Read(spot, scale, procedure, HardnessOf(spot, scale, circumstances, evidence, surroundings)));
            }
        }

        var pairs = Pairs(wanted, spots, faults);
        if (faults.Count > 0)
        {
            throw new FaultsException(faults);
        }

        var validity = spots.SelectMany(s => Validity.Of(s.Spot, s.Procedure, s.Scale, evidence, circumstances.Room)).ToImmutableArray();
        var moduli = spots.ToDictionary(s => s.Spot.Id, s => s.Spot.Surface == ReadSurface.ThroughFace ? null : HardnessModulus.Of(s.Hardness, s.Spot.Scale));
        var differences = pairs.Select(p => (p.First, p.Second, Refusal: Refusal(p.First.Spot, p.Second.Spot))).ToList();
        return new Outcome
        {
            Figures = [
                .. spots.Select(s => new Figure($"{s.Spot.Id}.hardness", $"Hardness of {Named(s.Spot)}, {s.Scale.Label}", s.Hardness)),
                .. spots.Where(s => moduli[s.Spot.Id] is not null).Select(s => new Figure($"{s.Spot.Id}.modulus", $"Young's modulus of {Named(s.Spot)}, from its hardness", moduli[s.Spot.Id]!)),
                .. differences.Where(d => d.Refusal is null).Select(d => new Figure(
                    $"{d.First.Spot.Id}..{d.Second.Spot.Id}.difference",
                    $"Hardness of {Named(d.First.Spot)} less that of {Named(d.Second.Spot)}, {d.First.Scale.Label}",
                    d.First.Hardness - d.Second.Hardness))],
            Tables = [SpotsTable(spots, thin), ValidityTable(validity), circumstances.Table()],
            Assumptions = [.. Assumptions(evidence, circumstances, spots, validity, moduli, unused)],
            Cautions = [
                .. circumstances.Cautions(),
                .. BlockCautions(evidence, spots),
                .. validity.Where(v => v.Met == Met.No).Select(v => $"{v.Spot}: {v.Words}"),
                .. spots.Select(s => ThinWords(s, thin)).OfType<string>(),
                .. differences.Select(d => d.Refusal is { } refusal ? $"{d.First.Spot.Id} and {d.Second.Spot.Id} are not compared: {refusal}" : Doubt(d.First, d.Second, circumstances)).OfType<string>()],
            Basis = [.. spots.Select(s => s.Procedure).Distinct().Select(p => new Basis(BasisKind.Standard, p.Standard, p.Edition)),
                .. moduli.Values.Any(m => m is not null) ? [new Basis(BasisKind.Handbook, "A. N. Gent, On the relation between indentation hardness and Young's modulus, Rubber Chem. Technol. 31, and H. J. Qi, K. Joyce, M. C. Boyce, Rubber Chem. Technol. 76", "1958; 2003")] : ImmutableArray<Basis>.Empty],
        };
    }

    private sealed record Read(HardnessSpot Spot, ScaleFacts Scale, Procedure Procedure, Measured Hardness);

    private static string? StandardWords(HardnessEvidence evidence) => evidence.Standard is null ? null : evidence.Edition is null ? evidence.Standard : $"{evidence.Standard}:{evidence.Edition}";

    private static Procedure? ProcedureOf(string? standard, ScaleFacts scale, ImmutableArray<Procedure> procedures, List<Fault> faults)
    {
        var name = standard?.Trim() ?? scale.Standard;
        var found = procedures.Where(p => Holds(name, p)).ToList();
        if (found.Count == 0)
        {
            var unknown = new Fault("standard", $"'{name}' is not known here", $"give one of {string.Join(", ", procedures.Select(p => p.Standard))}");
            if (!faults.Contains(unknown))
            {
                faults.Add(unknown);
            }

            return null;
        }

        // One entry may hold spots on scales that no single standard has: each is then held against its own.
        return found.FirstOrDefault(p => p.Scales.Contains(scale.Scale)) ?? procedures.First(p => p.Standard == scale.Standard && p.Scales.Contains(scale.Scale));
    }

    private static bool Holds(string standard, Procedure procedure) =>
        standard.Trim().Equals(procedure.Standard, StringComparison.OrdinalIgnoreCase) || standard.Trim().Equals(procedure.Name, StringComparison.OrdinalIgnoreCase);

    private static Measured HardnessOf(HardnessSpot spot, ScaleFacts scale, Circumstances circumstances, HardnessEvidence evidence, Surroundings surroundings)
    {
        var own = $"{surroundings.Entry}/{spot.Id}";
        var instrument = spot.Instrument ?? evidence.Instrument;
        var person = spot.Operator ?? circumstances.Operator;
        var sameInstrument = spot.Instrument is null || spot.Instrument == evidence.Instrument;
        var known = sameInstrument ? circumstances.Calibration : null;
        var half = Math.Max(known?.Tolerance ?? scale.Tolerance.Value, sameInstrument && evidence.TestBlock is { } block ? Math.Abs(block.Deviation) : 0);
        var u = known?.StandardUncertainty is { } certified
            ? Math.Max(certified, sameInstrument && evidence.TestBlock is { } checkedOn ? Math.Abs(checkedOn.Deviation) / Math.Sqrt(3) : 0)
            : half / Math.Sqrt(3);
        return Measured.Of(Repeats.Median(spot.Readings), scale.Scale.ToString(), [
            new Contribution($"readings:{own}", Evaluation.TypeA, Repeats.OfMedian(spot.Readings), spot.Readings.Length - 1),
            new Contribution($"resolution:{own}", Evaluation.TypeB, scale.Resolution / Math.Sqrt(12)),
            new Contribution($"handling:{own}", Evaluation.TypeB, (spot.Mounting == Mounting.Stand ? scale.OnStand : scale.ByHand).Value),
            new Contribution(instrument is null ? $"durometer:unnamed:{own}" : $"durometer:{instrument}", Evaluation.TypeB, u),
            new Contribution(person is null ? $"operator:unnamed:{own}" : $"operator:{person}", Evaluation.TypeB, scale.Operator.Value)]);
    }

    private static List<(string First, string Second, string Where)> Comparisons(HardnessEvidence evidence, List<HardnessSpot> others, List<string> unused, List<Fault> faults)
    {
        var wanted = new List<(string First, string Second, string Where)>();
        foreach (var (pair, i) in evidence.Pairs.Select((p, i) => (p, i)))
        {
            if (pair is [var first, var second] && first != second)
            {
                wanted.Add((first, second, $"pairs[{i}]"));
            }
            else
            {
                faults.Add(new Fault($"pairs[{i}]", "is no pair of two different spots", "give two ids such as [\"left\", \"right\"]"));
            }
        }

        wanted.AddRange(evidence.Spots.SelectMany((s, i) => s.Against.Select(other => (s.Id, other, $"spots[{i}].against"))));
        var named = evidence.Against.Where(a => a.ValueKind == JsonValueKind.String).Select(a => a.GetString()!).ToHashSet(StringComparer.Ordinal);
        foreach (var (other, i) in evidence.Against.Select((a, i) => (a, i)))
        {
            var where = $"against[{i}]";
            if (other.ValueKind == JsonValueKind.String)
            {
                var id = other.GetString()!;
                wanted.AddRange(evidence.Spots.Where(s => !named.Contains(s.Id)).Select(s => (s.Id, id, where)));
                continue;
            }

            if (other.ValueKind == JsonValueKind.Array)
            {
                if (other.EnumerateArray().All(e => e.ValueKind == JsonValueKind.String) && other.GetArrayLength() == 2)
                {
                    wanted.Add((other[0].GetString()!, other[1].GetString()!, where));
                }
                else
                {
                    faults.Add(new Fault(where, "is no pair of spots", "give two ids such as [\"left\", \"right\"]"));
                }

                continue;
            }

            try
            {
                var spot = ShapeReader.Read<HardnessSpot>(other, where, out var notTaken);
                unused.AddRange(notTaken);
                others.Add(spot);
                var alike = evidence.Spots.Where(s => s.Component is not null && s.Component == spot.Component).ToList();
                wanted.AddRange((alike.Count > 0 ? alike : [.. evidence.Spots]).Select(s => (s.Id, spot.Id, where)));
            }
            catch (FaultsException e)
            {
                faults.AddRange(e.Faults);
            }
        }

        return wanted;
    }

    private static List<(Read First, Read Second)> Pairs(List<(string First, string Second, string Where)> wanted, List<Read> spots, List<Fault> faults)
    {
        var pairs = new List<(Read, Read)>();
        foreach (var (first, second, where) in wanted.DistinctBy(w => (w.First, w.Second)))
        {
            var a = spots.Find(s => s.Spot.Id == first);
            var b = spots.Find(s => s.Spot.Id == second);
            if (a is null || b is null)
            {
                if (faults.Count == 0 || faults.All(f => f.Where.StartsWith("pairs", StringComparison.Ordinal) || f.Where.StartsWith("against", StringComparison.Ordinal)))
                {
                    faults.Add(new Fault(where, $"names '{(a is null ? first : second)}', which is no spot of this entry", "name a spot by its id"));
                }
            }
            else if (a.Spot.Scale != b.Spot.Scale)
            {
                faults.Add(new Fault(where, $"compares {first} on {a.Spot.Scale} with {second} on {b.Spot.Scale}", "compare readings of one scale: no conversion between scales is reliable"));
            }
            else
            {
                pairs.Add((a, b));
            }
        }

        return pairs;
    }

    private static string? Refusal(HardnessSpot a, HardnessSpot b)
    {
        if (a.Surface != b.Surface)
        {
            return $"one was read {Words(a.Surface)}, the other {Words(b.Surface)}. Read both the same way.";
        }

        return a.DwellS is { } first && b.DwellS is { } second && Math.Abs(first - second) > 2
            ? $"one was read after {Number(first)} s, the other after {Number(second)} s, and the material creeps between. Read both after the same time."
            : null;
    }

    private static string? Doubt(Read a, Read b, Circumstances circumstances)
    {
        var reasons = new List<string>();
        if (a.Spot.Backing != b.Spot.Backing)
        {
            reasons.Add("they did not lie on the same backing");
        }

        if ((a.Spot.TemperatureC ?? circumstances.Room?.TemperatureC) is { } warm && (b.Spot.TemperatureC ?? circumstances.Room?.TemperatureC) is { } cold && Math.Abs(warm.Value - cold.Value) > 2)
        {
            reasons.Add("they were not equally warm");
        }

        if (a.Spot.ThicknessMm is { } thick && b.Spot.ThicknessMm is { } thin && Math.Abs(thick.Value - thin.Value) > 1 && Math.Min(thick.Value, thin.Value) < (a.Procedure.ThicknessMm?.Value ?? 0))
        {
            reasons.Add("they are not equally thick, and the thinner one feels its base");
        }

        return reasons.Count == 0 ? null : $"{a.Spot.Id} and {b.Spot.Id} are compared although {string.Join(", and ", reasons)}.";
    }

    private static IEnumerable<string> BlockCautions(HardnessEvidence evidence, List<Read> spots)
    {
        if (evidence.TestBlock is { } block && spots.Count > 0 && Math.Abs(block.Deviation) > (evidence.Calibration?.Tolerance ?? spots[0].Scale.Tolerance.Value))
        {
            yield return $"The durometer read {Number(block.Reading)} on a block of {Number(block.Nominal)}: the readings are not corrected, their interval is wider. Have it adjusted.";
        }
    }

    private static IEnumerable<string> Assumptions(HardnessEvidence evidence, Circumstances circumstances, List<Read> spots, ImmutableArray<ValidityRow> validity, Dictionary<string, Measured?> moduli, List<string> unused)
    {
        foreach (var assumption in circumstances.Assumptions())
        {
            yield return assumption;
        }

        foreach (var field in unused)
        {
            yield return $"{field} is no field of a spot and was not used.";
        }

        if (evidence.Standard is null)
        {
            foreach (var group in spots.GroupBy(s => s.Procedure))
            {
                yield return $"No standard is stated: {string.Join(", ", group.Select(s => s.Spot.Id))} held against {group.Key.Name}.";
            }
        }
        else
        {
            foreach (var group in spots.Where(s => !Holds(evidence.Standard, s.Procedure)).GroupBy(s => s.Procedure))
            {
                yield return $"{evidence.Standard} does not have the scale of {string.Join(", ", group.Select(s => s.Spot.Id))}: held against {group.Key.Name}.";
            }
        }

        if (evidence.Edition is { } edition && spots.Select(s => s.Procedure).FirstOrDefault(p => p.Edition != edition.Trim()) is { } other)
        {
            yield return $"The conditions are those of {other.Name}; edition {edition} was not at hand and may differ.";
        }

        foreach (var procedure in spots.Select(s => s.Procedure).Distinct().Where(p => p.PartlyFromMemory))
        {
            yield return $"Some conditions of {procedure.Name} are not read in the standard itself (data/{ProceduresFile.File}): open it before a dispute.";
        }

        foreach (var group in validity.Where(v => v.Met == Met.NotStated).GroupBy(v => v.Spot))
        {
            yield return $"{group.Key}: {string.Join(", ", group.Select(v => v.Condition))} not stated; taken to be as the standard asks.";
        }

        if (spots.Any(s => s.Spot.Mounting is null))
        {
            yield return $"{string.Join(", ", spots.Where(s => s.Spot.Mounting is null).Select(s => s.Spot.Id))}: taken to be read by hand.";
        }

        if (spots.Any(s => (s.Spot.Instrument ?? evidence.Instrument) is null))
        {
            yield return "Spots without a named durometer are taken to be read with different ones: name it, and its part of the uncertainty falls out of differences.";
        }

        yield return "What operator, hand and durometer add to the uncertainty is taken from data/" + ScalesFile.File + ", where the calibration does not say it.";
        if (moduli.Values.Any(m => m is not null))
        {
            yield return "A modulus holds for solid rubber alone, not for a foam; its interval holds the spread of the published relations.";
        }
    }

    private static Table SpotsTable(List<Read> spots, ThinPadsFile thin) => new(
        "spots",
        "Spots",
        [new("spot", "Spot"), new("component", "Component"), new("scale", "Scale"), new("readings", "Readings"), new("spread", "Spread (standard deviation)"), new("surface", "Surface"), new("tooHard", "Reads too hard by about")],
        [.. spots.Select(s => ImmutableArray.Create<Cell>(
            s.Spot.Id,
            s.Spot.Component ?? "not stated",
            s.Scale.Label,
            string.Join(" ", s.Spot.Readings.Select(Number)),
            Measured.Exact(Repeats.StandardDeviation(s.Spot.Readings), s.Scale.Scale.ToString()),
            Words(s.Spot.Surface),
            PadOf(s, thin) is { } pad ? $"{Number(Math.Round(pad.AtLeast))} to {Number(Math.Round(pad.AtMost))} points" : new Cell.Empty()))]);

    private static Table ValidityTable(ImmutableArray<ValidityRow> validity) => new(
        "validity",
        "Conditions of the standard",
        [new("spot", "Spot"), new("condition", "Condition"), new("asked", "Asked"), new("given", "Given"), new("met", "Met"), new("words", "What to do")],
        [.. validity.Select(v => ImmutableArray.Create<Cell>(
            v.Spot,
            v.Condition,
            v.Asked,
            v.Given,
            v.Met switch { Met.Yes => "yes", Met.No => "no", _ => "not stated" },
            v.Words))]);

    private static ThinPad? PadOf(Read read, ThinPadsFile thin) =>
        read.Spot.ThicknessMm is { } thickness && read.Procedure.ThicknessMm is { } asked && thickness.Value < asked.Value
            ? ThinPad.Of(thin, read.Spot.Scale, read.Hardness.Value, thickness.Value)
            : null;

    private static string? ThinWords(Read read, ThinPadsFile thin) => PadOf(read, thin) is { } pad
        ? $"{read.Spot.Id}: at {Number(read.Spot.ThicknessMm!.Value)} mm it reads about {Number(Math.Round(pad.AtLeast))} to {Number(Math.Round(pad.AtMost))} points harder than a thick piece, by elastic layer theory; the figure is not corrected."
        : null;

    private static string Named(HardnessSpot spot) => spot.Component is { Length: > 0 } component && !component.Equals(spot.Id, StringComparison.OrdinalIgnoreCase) ? $"{component} ({spot.Id})" : spot.Id;

    private static string Words(ReadSurface surface) => surface switch
    {
        ReadSurface.Cut => "on a cut face",
        ReadSurface.ThroughFace => "through its face",
        _ => "bare",
    };

    private static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);
}

using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Footwear.Instruments;
using Pairbench.Footwear.Shapes;
using Pairbench.Measuring;
using static Pairbench.Footwear.Plain;

namespace Pairbench.Footwear.Hardness;

/// <summary>
/// Median hardness of each spot in points of its scale, with the conditions of the standard held against it, and differences between spots of one scale.
/// </summary>
/// <remarks>Basis: ISO 48-4:2018, ISO 868:2003, ASTM D2240-15, JIS K 7312:1996, as data in <c>data/hardness/</c>.</remarks>
public sealed class HardnessExamination : Examination<HardnessEvidence>
{
    private const double MostOnDial = 100;

    public override string Name => "hardness";

    public override string Title => "Hardness";

    public override int Order => 240;

    public override bool LooksAtSubject => true;

    public override Outcome Examine(HardnessEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var scales = surroundings.Catalogue.Read<ScalesFile>(ScalesFile.File).Scales;
        var procedures = surroundings.Catalogue.Read<ProceduresFile>(ProceduresFile.File).Procedures;
        var springs = surroundings.Catalogue.Read<SpringsFile>(SpringsFile.File);
        var faults = new List<Fault>();
        var ofEntry = Circumstances.Of(evidence.Taken, surroundings.Subject);

        var others = new List<HardnessSpot>();
        var unused = new List<string>();
        var wanted = Comparisons(evidence, others, unused, faults);
        var spots = new List<SpotRead>();
        foreach (var (spot, where) in evidence.Spots.Select((s, i) => (s, $"spots[{i}]")).Concat(others.Select(o => (o, "against"))))
        {
            if (spots.Any(s => s.Spot.Id == spot.Id))
            {
                faults.Add(new Fault(where + ".id", $"'{spot.Id}' stands twice", "give each spot an id of its own"));
                continue;
            }

            var scale = scales.Single(s => s.Scale == spot.Scale);
            ImmutableArray<Fault> incomplete = [.. spot.Face?.Faults(where + ".face") ?? [], .. spot.Beneath?.Faults(where + ".beneath", spot.Backing) ?? []];
            faults.AddRange(incomplete);
            if (ProcedureOf(evidence.Taken.Standard, scale, procedures, faults) is { } procedure && incomplete.IsEmpty)
            {
                var own = $"{surroundings.Entry}/{spot.Id}";
                var taken = Circumstances.Of(evidence.Taken.For(spot.Operator, spot.Instrument), surroundings.Subject);
                Measured Read(ImmutableArray<double> readings, string of) => HardnessOf(spot, readings, of, scale, taken);
                spots.Add(SpotRead.Of(spot, scale, procedure, taken, Read(spot.Readings, own), springs, own, spot.Beneath is { Readings.IsEmpty: false } soft ? Read(soft.Readings, own + "/beneath") : null));
            }
        }

        faults.AddRange(BlockFaults(evidence.Taken.TestBlock, spots));
        var pairs = Pairs(wanted, Named(evidence), spots, faults);
        var gauges = Gauges(evidence, surroundings.Entry, spots, faults);
        if (faults.Count > 0)
        {
            throw new FaultsException(faults);
        }

        var validity = spots.SelectMany(s => Validity.Of(s.Spot, s.Procedure, s.Scale, evidence, ofEntry.Room)).ToImmutableArray();
        ImmutableArray<(Circumstances Taken, IReadOnlyList<string> Spots)> circumstances = spots.Count == 0
            ? [(ofEntry, [])]
            : [.. spots.GroupBy(s => s.Taken).Select(g => (g.Key, (IReadOnlyList<string>)[.. g.Select(s => s.Spot.Id)]))];
        var differences = pairs.Select(p => (p.First, p.Second, Refusal: Refusal(p.First.Spot, p.Second.Spot))).ToList();
        ImmutableArray<(SpotRead First, SpotRead Second, Comparison Comparison)> compared = [.. differences
            .Where(d => d.Refusal is null)
            .Select(d => (d.First, d.Second, Comparison.Of(d.First.Hardness - d.Second.Hardness, evidence.EqualWithin)))];
        return new Outcome
        {
            Figures = [
                .. spots.SelectMany(s => s.Figures().Select(f => f with { Component = s.Spot.Component })),
                .. compared.Select(c => new Figure(
                    $"{c.First.Spot.Id}..{c.Second.Spot.Id}.difference",
                    $"Hardness of {c.First.Named} less that of {c.Second.Named}, {c.First.Scale.Label}",
                    c.Comparison.Difference) { Component = c.First.Spot.Component == c.Second.Spot.Component ? c.First.Spot.Component : null }),
                .. gauges.SelectMany(g => g.Figures())],
            Tables = [.. HardnessTables.Of(spots, validity, compared, evidence.EqualWithin, circumstances), .. GaugeResult.Tables(gauges)],
            Plates = [.. spots.Count > 0 ? [ProbePlate.Of(surroundings.Catalogue, spots.Select(s => s.Spot.Scale))] : ImmutableArray<Plate>.Empty],
            Assumptions = [.. HardnessWords.Assumptions(evidence, circumstances, spots, validity, unused), .. gauges.SelectMany(g => g.Assumptions())],
            Cautions = [
                .. spots.Count > 0 ? circumstances.SelectMany(c => c.Taken.Cautions()).Distinct(StringComparer.Ordinal) : [],
                .. BlockCautions(evidence, spots),
                .. validity.Where(v => v.Met == Met.No).Select(v => $"{v.Spot}: {v.Words}"),
                .. spots.Select(s => s.Thick.Words).Where(w => w.Length > 0),
                .. spots.Where(s => s.IsThin && s.Modulus is not null).Select(s => $"{s.Spot.Id}: its modulus follows from the reading as it stands, so what the thin pad lies on is in it."),
                .. spots.Select(s => s.UnderFace.Words).Where(w => w.Length > 0),
                .. differences.Select(d => d.Refusal is { } refusal ? $"{d.First.Spot.Id} and {d.Second.Spot.Id} are not compared: {refusal}" : Doubt(d.First, d.Second, ofEntry.Room)).OfType<string>(),
                .. gauges.SelectMany(g => g.Cautions())],
            Basis = [.. HardnessWords.Bases(evidence, spots), .. GaugeResult.Bases(gauges)],
        };
    }

    private static List<GaugeResult> Gauges(HardnessEvidence evidence, string entry, List<SpotRead> spots, List<Fault> faults)
    {
        if (evidence.Spots.IsEmpty && evidence.Gauges.IsEmpty)
        {
            faults.Add(new Fault("spots", "has 0 entries", "give at least one spot, or a gauge study under gauges"));
        }

        foreach (var (gauge, i) in evidence.Gauges.Select((g, i) => (g, i)))
        {
            if (EnumWords.Read<HardnessScale>(gauge.Unit) is null)
            {
                faults.Add(new Fault($"gauges[{i}].unit", $"'{gauge.Unit}' is no scale", $"give one of {string.Join(", ", EnumWords.All<HardnessScale>())}"));
            }
        }

        return GaugeResult.Of(evidence.Gauges, entry, spots.Select(s => s.Spot.Id), faults);
    }

    private static Procedure? ProcedureOf(string? standard, ScaleFacts scale, ImmutableArray<Procedure> procedures, List<Fault> faults)
    {
        var name = standard?.Trim() ?? scale.Standard;
        var found = procedures.Where(p => p.IsNamed(name)).ToList();
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

    private static Measured HardnessOf(HardnessSpot spot, ImmutableArray<double> readings, string own, ScaleFacts scale, Circumstances taken)
    {
        var (instrument, person) = (taken.InstrumentId, taken.Operator);
        return Measured.Of(Repeats.Median(readings), EnumWords.Of(scale.Scale), [
            new Contribution($"readings:{own}", Evaluation.TypeA, Repeats.OfMedian(readings), readings.Length - 1),
            new Contribution($"resolution:{own}", Evaluation.TypeB, TypeB.Resolution(scale.Resolution)),
            new Contribution($"handling:{own}", Evaluation.TypeB, (spot.Mounting == Mounting.Stand ? scale.OnStand : scale.ByHand).Value),
            new Contribution(instrument is null ? $"durometer:unnamed:{own}" : $"durometer:{instrument}", Evaluation.TypeB, taken.InstrumentUncertainty(scale.Tolerance.Value)),
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

    /// <summary>Every spot that the evidence names, whether it could be read or has faults of its own.</summary>
    private static HashSet<string> Named(HardnessEvidence evidence) =>
    [
        .. evidence.Spots.Select(s => s.Id),
        .. evidence.Against.Where(a => a.ValueKind == JsonValueKind.Object && a.TryGetProperty("id", out var id) && id.ValueKind == JsonValueKind.String).Select(a => a.GetProperty("id").GetString()!),
    ];

    private static List<(SpotRead First, SpotRead Second)> Pairs(List<(string First, string Second, string Where)> wanted, HashSet<string> named, List<SpotRead> spots, List<Fault> faults)
    {
        var unknown = wanted
            .SelectMany(w => new[] { w.First, w.Second }.Where(id => !named.Contains(id)).Select(id => new Fault(w.Where, $"names '{id}', which is no spot of this entry", "name a spot by its id")))
            .Distinct();
        faults.AddRange(unknown);
        var pairs = new List<(SpotRead, SpotRead)>();
        foreach (var (first, second, where) in wanted.DistinctBy(w => (w.First, w.Second)))
        {
            var a = spots.Find(s => s.Spot.Id == first);
            var b = spots.Find(s => s.Spot.Id == second);
            if (a is null || b is null)
            {
                continue;
            }

            if (a.Spot.Scale != b.Spot.Scale)
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
            return $"one was read {SpotRead.Words(a.Surface)}, the other {SpotRead.Words(b.Surface)}. Read both the same way.";
        }

        return a.DwellS is { } first && b.DwellS is { } second && Math.Abs(first - second) > 2
            ? $"one was read after {Number(first)} s, the other after {Number(second)} s, and the material creeps between. Read both after the same time."
            : null;
    }

    private static string? Doubt(SpotRead a, SpotRead b, Room? room)
    {
        var reasons = new List<string>();
        if (a.Spot.Backing != b.Spot.Backing)
        {
            reasons.Add("they did not lie on the same backing");
        }

        if ((a.Spot.TemperatureC ?? room?.TemperatureC) is { } warm && (b.Spot.TemperatureC ?? room?.TemperatureC) is { } cold && Math.Abs(warm.Value - cold.Value) > 2)
        {
            reasons.Add("they were not equally warm");
        }

        if (a.Spot.ThicknessMm is { } thick && b.Spot.ThicknessMm is { } thin && Math.Abs(thick.Value - thin.Value) > 1 && Math.Min(thick.Value, thin.Value) < (a.Procedure.ThicknessMm?.Value ?? 0))
        {
            reasons.Add("they are not equally thick, and the thinner one feels its base");
        }

        return reasons.Count == 0 ? null : $"{a.Spot.Id} and {b.Spot.Id} are compared although {string.Join(", and ", reasons)}.";
    }

    /// <summary>A block is made for the range that its scale is read in; a dial goes from 0 to 100.</summary>
    private static IEnumerable<Fault> BlockFaults(TestBlock? block, List<SpotRead> spots)
    {
        if (block is null)
        {
            yield break;
        }

        var (from, to) = spots.Count == 0 ? (0, MostOnDial) : (spots.Min(s => s.Procedure.Range.From), spots.Max(s => s.Procedure.Range.To));
        if (block.Nominal < from || block.Nominal > to)
        {
            var scales = string.Join(" and ", spots.Select(s => s.Scale.Label).Distinct(StringComparer.Ordinal));
            yield return new Fault("testBlock.nominal", $"is {Number(block.Nominal)}", $"give the points that the block is marked with, {Number(from)} to {Number(to)}{(scales.Length > 0 ? $" on {scales}" : "")}");
        }

        if (block.Reading is < 0 or > MostOnDial)
        {
            yield return new Fault("testBlock.reading", $"is {Number(block.Reading)}", $"give the points that the durometer read on the block, 0 to {Number(MostOnDial)}");
        }
    }

    private static IEnumerable<string> BlockCautions(HardnessEvidence evidence, List<SpotRead> spots)
    {
        if (evidence.Taken.TestBlock is { } block && spots.Find(s => s.Taken.TestBlock is not null) is { } read && Math.Abs(block.Deviation) > (evidence.Taken.Calibration?.Tolerance ?? read.Scale.Tolerance.Value))
        {
            yield return $"The durometer read {Number(block.Reading)} on a block of {Number(block.Nominal)}: the readings are not corrected, their interval is wider. Have it adjusted.";
        }
    }
}

using System.Collections.Immutable;
using Pairbench.Footwear.Instruments;

namespace Pairbench.Footwear.Hardness;

/// <summary>What hardness had to assume, and what it rests on.</summary>
internal static class HardnessWords
{
    public static ImmutableArray<Basis> Bases(HardnessEvidence evidence, List<SpotRead> spots) =>
    [
        .. spots.Select(s => s.Procedure).Distinct().Select(p => new Basis(BasisKind.Standard, p.Standard, p.Edition)),
        .. spots.SelectMany(s => s.Modulus?.Relations ?? []).Select(r => new Basis(BasisKind.Handbook, $"{r.Name}: {r.Source}")).Distinct(),
        .. spots.Any(s => s.Thick.Pad is not null || s.UnderFace.Pad is not null) ? [new Basis(BasisKind.Handbook, "W. C. Hayes, L. M. Keer, G. Herrmann, L. F. Mockros, J. Biomech. 5, 541: its equation solved, not its printed table", "1972")] : ImmutableArray<Basis>.Empty,
        .. spots.Any(s => (s.Thick.Pad is not null && s.Spot.Beneath is not null) || s.UnderFace.Pad is not null) ? [new Basis(BasisKind.Handbook, "T. C. O'Sullivan, R. B. King, J. Tribol. 110, 235: Burmister's function of a layer on an elastic base, solved for the probe", "1988")] : ImmutableArray<Basis>.Empty,
        .. spots.Any(s => s.Spot.Scale == HardnessScale.ShoreD && (s.Thick.Pad ?? s.UnderFace.Pad) is not null) ? [new Basis(BasisKind.Handbook, "I. N. Sneddon, Int. J. Eng. Sci. 3, 47: the rounded cone of type D on a half space", "1965")] : ImmutableArray<Basis>.Empty,
        .. evidence.EqualWithin is not null ? [new Basis(BasisKind.Handbook, "D. J. Schuirmann, J. Pharmacokinet. Biopharm. 15, 657: two one-sided tests at 5 %", "1987")] : ImmutableArray<Basis>.Empty
    ];

    public static IEnumerable<string> Assumptions(HardnessEvidence evidence, ImmutableArray<(Circumstances Taken, IReadOnlyList<string> Spots)> circumstances, List<SpotRead> spots, ImmutableArray<ValidityRow> validity, List<string> unused)
    {
        var isTemperatureStated = spots.All(s => s.Spot.TemperatureC is not null);
        return
        [
            .. spots.Count > 0 ? circumstances.SelectMany(c => c.Taken.Assumptions(isTemperatureStated)).Distinct(StringComparer.Ordinal) : [],
            .. unused.Select(field => $"{field} is no field of a spot and was not used."),
            .. OfTheStandard(evidence.Taken, spots),
            .. validity.Where(v => v.Met == Met.NotStated).GroupBy(v => v.Spot).Select(g => $"{g.Key}: {string.Join(", ", g.Select(v => v.Condition))} not stated; taken to be as the standard asks."),
            .. spots.Count > 0 ? OfTheReading(spots) : [],
            .. OfTheEstimate(spots),
        ];
    }

    private static IEnumerable<string> OfTheStandard(StatedCircumstances taken, List<SpotRead> spots)
    {
        foreach (var group in spots.Where(s => taken.Standard is null || !s.Procedure.IsNamed(taken.Standard)).GroupBy(s => s.Procedure))
        {
            var ids = string.Join(", ", group.Select(s => s.Spot.Id));
            yield return taken.Standard is null
                ? $"No standard is stated: {ids} held against {group.Key.Name}."
                : $"{taken.Standard} does not have the scale of {ids}: held against {group.Key.Name}.";
        }

        if (taken.Edition is { } edition && spots.Select(s => s.Procedure).FirstOrDefault(p => p.Edition != edition.Trim()) is { } other)
        {
            yield return $"The conditions are those of {other.Name}; edition {edition} was not at hand and may differ.";
        }

        foreach (var procedure in spots.Select(s => s.Procedure).Distinct().Where(p => p.PartlyFromMemory))
        {
            yield return $"Some conditions of {procedure.Name} are not read in the standard itself (data/{ProceduresFile.File}): open it before a dispute.";
        }
    }

    private static IEnumerable<string> OfTheReading(List<SpotRead> spots)
    {
        if (spots.Any(s => s.Spot.Mounting is null))
        {
            yield return $"{string.Join(", ", spots.Where(s => s.Spot.Mounting is null).Select(s => s.Spot.Id))}: taken to be read by hand.";
        }

        if (spots.Any(s => s.Taken.InstrumentId is null))
        {
            yield return "Spots without a named durometer are taken to be read with different ones: name it, and its part of the uncertainty falls out of differences.";
        }

        yield return "What operator, hand and durometer add to the uncertainty is taken from data/" + ScalesFile.File + ", where the calibration does not say it.";
    }

    private static IEnumerable<string> OfTheEstimate(List<SpotRead> spots)
    {
        if (spots.Any(s => s.Modulus is not null))
        {
            yield return "A modulus from Shore A or D holds for solid rubber alone, not for a foam; one from a ball is that of a small strain. Its interval holds the spread of the published relations, and need not lie evenly about the one that gives the value.";
        }

        foreach (var spot in spots.Where(s => (s.Thick.Pad ?? s.UnderFace.Pad) is not null && s.Spot.Beneath is { ThicknessMm: null }))
        {
            yield return $"{spot.Spot.Id}: what it lies on is taken as very thick; give beneath.thicknessMm where a hard base is near.";
        }

        if (spots.Any(s => s.HasEstimate))
        {
            yield return "The estimate of a thick piece lies midway between a pad that slides on its base and one bonded to it; JisC is taken to be on foam (Poisson's ratio 0.3), the other scales on solid rubber or plastic (0.5), and a quarter of the correction, on ShoreD half of it, is taken as the model's own error (common practice, no source).";
        }

        if (spots.Any(s => s.Spot.Scale == HardnessScale.ShoreD && s.HasEstimate))
        {
            yield return "ShoreD: linear theory leaves out the large strains at the steep flank of its cone, and that a hard plastic yields there; the rounding of its tip is in it.";
        }

        if (spots.Any(s => s.Spot.Scale == HardnessScale.AstmC && s.HasEstimate))
        {
            yield return "AstmC: its indenter is that of type A and is taken as the same flat circle of 0.515 mm radius (Gent).";
        }
    }
}

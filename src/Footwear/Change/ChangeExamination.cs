using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Change;

/// <summary>
/// Sets two reviews against each other: every figure with its difference, and whether it is a real change, a real sameness or cannot be told;
/// what is new and what is gone among findings and tables.
/// </summary>
/// <remarks>
/// Differences follow JCGM 100:2008, 5.2: contributions of one cause cancel. A change is claimed where an interval of two standard uncertainties (by Student's t where
/// degrees of freedom are few) excludes zero; sameness, as in a test of equivalence, where it lies within the stated tolerance.
/// </remarks>
public sealed class ChangeExamination : Examination<ChangeEvidence>
{
    internal const string OwnName = "change";

    public override string Name => OwnName;

    public override string Title => "Change";

    public override int Order => 700;

    public override bool LooksAtSubject => false;

    public override Outcome Examine(ChangeEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        return Compare(evidence, cancellation).Outcome;
    }

    /// <exception cref="FaultsException">An outcome does not have the printed form, or a tolerance names no figure.</exception>
    internal static Comparison Compare(ChangeEvidence evidence, CancellationToken cancellation)
    {
        var (before, between, after) = Read(evidence);
        var tolerances = Tolerances(evidence, before, after);
        var earlier = before.Figures.ToDictionary(f => f.Address);
        var shared = after.Figures.Where(f => earlier.ContainsKey(f.Address)).ToImmutableArray();
        var pairs = shared.Select(f => (Figure: f, Difference: Difference.Between(earlier[f.Address], f, tolerances.TryGetValue(f.Address.ToString(), out var t) ? t : null))).ToImmutableArray();
        var differences = pairs.Select(p => p.Difference).OfType<Difference>().ToImmutableArray();
        cancellation.ThrowIfCancellationRequested();
        var outcome = new Outcome
        {
            Figures = [.. differences.Select(d => new Figure(FigureId(d), $"{d.After.Label}, {after.Label} less {before.Label}", d.Of))],
            Tables = [.. ChangeTables.Of(evidence, before, between, after, differences)],
            Plates = differences.IsEmpty ? [] : [ChangePlate.Of(before, between, after, differences)],
            Assumptions = [.. Assumptions(before, after, pairs, differences)],
            Basis =
            [
                new Basis(BasisKind.Standard, "JCGM 100, 5.2 (correlated inputs)", "2008"),
                new Basis(BasisKind.Handbook, "NIST/SEMATECH e-Handbook of Statistical Methods, 7.3 (comparisons of two processes); equivalence by two one-sided tests: from memory"),
            ],
        };
        return new Comparison(outcome, [before, .. between, after], differences);
    }

    private static (PastOutcomes Before, ImmutableArray<PastOutcomes> Between, PastOutcomes After) Read(ChangeEvidence evidence)
    {
        var faults = new List<Fault>();
        PastOutcomes? Try(ReviewOutcomes review, string where)
        {
            try
            {
                return PastOutcomes.Read(review, where);
            }
            catch (FaultsException e)
            {
                faults.AddRange(e.Faults);
                return null;
            }
        }

        var before = Try(evidence.Before, "before");
        var between = evidence.Between.Select((r, i) => Try(r, string.Create(CultureInfo.InvariantCulture, $"between[{i}]"))).ToImmutableArray();
        var after = Try(evidence.After, "after");
        return faults.Count == 0 ? (before!, [.. between.OfType<PastOutcomes>()], after!) : throw new FaultsException(faults);
    }

    private static ImmutableDictionary<string, double> Tolerances(ChangeEvidence evidence, PastOutcomes before, PastOutcomes after)
    {
        var stated = evidence.Tolerances ?? ImmutableDictionary<string, double>.Empty;
        var known = before.Figures.Concat(after.Figures).Select(f => f.Address.ToString()).ToHashSet(StringComparer.Ordinal);
        var faults = stated.Where(t => !(t.Value > 0)).Select(t => new Fault($"tolerances['{t.Key}']", $"is {t.Value.ToString("0.####", CultureInfo.InvariantCulture)}", "give a difference above zero in the unit of the figure"))
            .Concat(stated.Keys.Where(k => !known.Contains(k)).Order(StringComparer.Ordinal).Select(k => new Fault($"tolerances['{k}']", "is no figure of either review", "give the address of a figure as examination/entry/figure")))
            .ToImmutableArray();
        return faults.IsEmpty ? stated : throw new FaultsException(faults);
    }

    private static IEnumerable<string> Assumptions(PastOutcomes before, PastOutcomes after, ImmutableArray<(PastFigure Figure, Difference? Difference)> pairs, ImmutableArray<Difference> differences)
    {
        foreach (var (figure, _) in pairs.Where(p => p.Difference is null))
        {
            var unit = before.Figures.First(f => f.Address == figure.Address).Measured.Unit;
            yield return $"{figure.Label} ({figure.Address}) is in {Units.Shown(unit)} before and in {Units.Shown(figure.Measured.Unit)} after: scales are never mixed, so it is not compared.";
        }

        if (differences.Any(d => d.Tolerance is null && !d.Of.IsExact))
        {
            yield return "A figure without a stated tolerance is never called the same: not being able to tell a change is no proof of sameness.";
        }

        if (SharedCauses(differences) is { Length: > 0 } causes)
        {
            yield return $"Causes of one name are the same in both reviews and cancel as far as both share them: {string.Join("; ", causes.Select(CauseWords.Of))}.";
        }

        if (differences.Where(d => d.HasNothingOfItsOwn).Select(d => d.After.Label).Distinct(StringComparer.Ordinal).ToImmutableArray() is { Length: > 0 } bare)
        {
            yield return $"Nothing is stated that two readings of it do not share, so their difference stands without an uncertainty: {string.Join("; ", bare)}. State the spread of its readings.";
        }

        var count = OnlyIn(before, after) + OnlyIn(after, before);
        if (count > 0)
        {
            yield return string.Create(CultureInfo.InvariantCulture, $"{count} figures stand in one of the two reviews alone and are not compared.");
        }
    }

    private static ImmutableArray<string> SharedCauses(ImmutableArray<Difference> differences) => [.. differences
        .SelectMany(d => d.Before.Measured.Budget.Select(c => c.Cause).Intersect(d.After.Measured.Budget.Select(c => c.Cause), StringComparer.Ordinal))
        .Distinct(StringComparer.Ordinal)
        .Order(StringComparer.Ordinal)];

    private static int OnlyIn(PastOutcomes here, PastOutcomes there) => here.Figures.Select(f => f.Address).Except(there.Figures.Select(f => f.Address)).Count();

    private static string FigureId(Difference difference) => difference.After.Address.ToString().Replace('/', '.') + ".difference";
}

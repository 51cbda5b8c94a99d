using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Lot;

/// <summary>The plan of one severity, and what was found against it.</summary>
/// <param name="Aql">% defective pairs up to <see cref="MostPercentDefective"/>, defects per 100 pairs above.</param>
/// <param name="Cell">The row of the table, as it is printed.</param>
/// <param name="SampleSize">Pairs to pull, at most the lot.</param>
/// <param name="Found">Defective pairs, or defects above <see cref="MostPercentDefective"/>; null where no count was given.</param>
/// <param name="Inspected">Pairs looked at so far; null where the whole sample was.</param>
/// <param name="IsRefused">As many were found as refuse the lot; of criticals any one.</param>
public sealed record SeverityPlan(Severity Severity, double Aql, PlanCell Cell, int SampleSize, int? Found, int? Inspected, bool IsRefused)
{
    /// <summary>Above this AQL the tables count defects per 100 pairs, not defective pairs.</summary>
    public const double MostPercentDefective = 10;

    public string Word => EnumWords.Of(Severity);

    public bool CountsDefects => Aql > MostPercentDefective;

    /// <summary>
    /// Largest number found with which the lot passes: one fewer than the rejection number, which in reduced inspection lies above the acceptance
    /// number; of criticals none, whatever the table says.
    /// </summary>
    public int Passes => Severity == Severity.Critical ? 0 : Cell.Re - 1;

    /// <summary>Whether pairs of the sample are still to be looked at. A lot that is refused already needs no more.</summary>
    public bool IsOpen => !IsRefused && Inspected < SampleSize;

    /// <summary>More than the acceptance number, fewer than the rejection number: the lot passes, and normal inspection returns.</summary>
    public bool IsInGap => !IsRefused && Found > Cell.Ac;

    internal AcceptanceChance Curve => new(SampleSize, Passes);

    /// <summary>Largest quality that the curves are looked at, as a share.</summary>
    public double Most => CountsDefects ? 40 : 1;

    /// <summary>Whether a lot can have this quality: of defective pairs it has at most all, of defects more.</summary>
    /// <param name="qualityPct">% defective pairs, or defects per 100 pairs.</param>
    public bool Has(double qualityPct) => CountsDefects || qualityPct <= 100;

    public string Says => this switch
    {
        { IsRefused: true } => "refused",
        { Found: null, Inspected: null or 0 } => "not inspected yet",
        { IsOpen: true } => string.Create(CultureInfo.InvariantCulture, $"{Inspected} of {SampleSize} pairs looked at"),
        { Found: null } => "not inspected yet",
        { IsInGap: true } => "accepted, back to normal",
        _ => "accepted",
    };

    /// <summary>Chance that a lot of this quality passes, one of a long series.</summary>
    /// <param name="share">Defective pairs, or defects per pair.</param>
    public double Chance(double share) => CountsDefects ? Curve.Poisson(share) : Curve.Binomial(share);

    /// <summary>One plan for each AQL that is stated, the gravest first.</summary>
    internal static ImmutableArray<SeverityPlan> All(LotEvidence evidence, SamplingTables tables, Inspection inspection)
    {
        var letter = tables.Letter(evidence.LotSize, evidence.Level);
        return [.. evidence.Aql.Stated.Select(a => From(a.Severity, a.Aql, tables.Plan(letter, a.Aql, inspection), evidence))];
    }

    private static SeverityPlan From(Severity severity, double aql, PlanCell cell, LotEvidence evidence)
    {
        // Above 10 the tables count defects, several to a pair.
        var found = (aql > MostPercentDefective ? evidence.Defects : evidence.Found)?.Of(severity);
        return new SeverityPlan(severity, aql, cell, Math.Min(cell.N, evidence.LotSize), found, evidence.Inspected, found >= cell.Re || (severity == Severity.Critical && evidence.Criticals > 0));
    }
}

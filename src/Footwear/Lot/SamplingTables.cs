using System.Collections.Immutable;
using System.Globalization;

namespace Pairbench.Footwear.Lot;

/// <param name="LotMax">Null for the largest lots.</param>
/// <param name="Letters">By level.</param>
public sealed record CodeLetters(long LotMin, ImmutableDictionary<string, string> Letters, long? LotMax = null);

/// <summary>One cell of a master table.</summary>
/// <param name="Cell">What the printed table has there: a plan, or an arrow down or up.</param>
/// <param name="LetterUsed">Where the arrow leads.</param>
/// <param name="N">Sample size of the plan that is used.</param>
/// <param name="Ac">Largest number found with which the lot is accepted.</param>
/// <param name="Re">Least number found with which it is refused.</param>
public sealed record PlanCell(string Letter, double Aql, string Cell, string LetterUsed, int N, int Ac, int Re);

/// <param name="From">Pairs sampled in the last ten lots, at least.</param>
/// <param name="Limit">By AQL; where it is missing, ten lots are not enough.</param>
public sealed record LimitNumbers(int From, ImmutableDictionary<string, int> Limit);

/// <summary><c>data/sampling/mil-std-105e.json</c>: single sampling plans for attributes.</summary>
public sealed record SamplingTables(
    string Edition,
    string Source,
    ImmutableArray<CodeLetters> CodeLetters,
    ImmutableArray<PlanCell> Normal,
    ImmutableArray<PlanCell> Tightened,
    ImmutableArray<PlanCell> Reduced,
    ImmutableArray<LimitNumbers> LimitNumbers)
{
    public const string File = "sampling/mil-std-105e.json";

    /// <summary>The AQL columns of the tables.</summary>
    public ImmutableArray<double> Aqls => [.. Normal.Select(p => p.Aql).Distinct().Order()];

    /// <summary>Code letter of a lot (table I).</summary>
    public string Letter(long lotSize, InspectionLevel level)
    {
        var row = CodeLetters.First(c => lotSize >= c.LotMin && (c.LotMax is not { } most || lotSize <= most));
        return row.Letters[Words(level)];
    }

    /// <summary>The plan after following the arrow (tables II-A, II-B, II-C).</summary>
    public PlanCell Plan(string letter, double aql, Inspection inspection) => Of(inspection).First(p => p.Letter == letter && Same(p.Aql, aql));

    public bool Has(double aql) => Aqls.Any(a => Same(a, aql));

    /// <summary>Table VIII; null where ten lots are not enough for the AQL, or the sample is smaller than the table begins.</summary>
    public int? LimitNumber(int sampled, double aql) => LimitNumbers.LastOrDefault(l => l.From <= sampled) is { } row
        && row.Limit.Where(l => Same(double.Parse(l.Key, CultureInfo.InvariantCulture), aql)).Select(l => (int?)l.Value).FirstOrDefault() is { } limit ? limit : null;

    public static string Words(InspectionLevel level) => level switch
    {
        InspectionLevel.S1 => "S-1",
        InspectionLevel.S2 => "S-2",
        InspectionLevel.S3 => "S-3",
        InspectionLevel.S4 => "S-4",
        _ => level.ToString(),
    };

    private ImmutableArray<PlanCell> Of(Inspection inspection) => inspection switch
    {
        Inspection.Tightened => Tightened,
        Inspection.Reduced => Reduced,
        _ => Normal,
    };

    private static bool Same(double a, double b) => Math.Abs(a - b) <= 1e-6 * Math.Max(a, b);
}

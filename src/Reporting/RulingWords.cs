using Pairbench.Footwear;
using Pairbench.Measuring;

namespace Pairbench.Reporting;

/// <summary>Rulings, severities and verdicts as words.</summary>
public static class RulingWords
{
    public static string Of(Ruling ruling) => ruling switch
    {
        Ruling.Within => "within",
        Ruling.Outside => "outside",
        _ => "undecided",
    };

    public static string Of(Severity severity) => severity switch
    {
        Severity.Critical => "critical",
        Severity.Major => "major",
        _ => "minor",
    };

    public static string Of(VerdictWord word) => word switch
    {
        VerdictWord.Pass => "pass",
        VerdictWord.PassWithCorrections => "pass with corrections",
        VerdictWord.Hold => "hold",
        _ => "reject",
    };

    public static string Of(Side side) => side switch
    {
        Side.Left => "left",
        Side.Right => "right",
        _ => "both",
    };

    /// <summary>The ruling whose shape and colour a verdict borrows: pass and corrections a filled disc, hold an open ring, reject a crossed square.</summary>
    public static Ruling ShapeOf(VerdictWord word) => word switch
    {
        VerdictWord.Pass or VerdictWord.PassWithCorrections => Ruling.Within,
        VerdictWord.Hold => Ruling.Undecided,
        _ => Ruling.Outside,
    };
}

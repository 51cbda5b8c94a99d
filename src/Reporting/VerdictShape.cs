using Pairbench.Footwear;
using Pairbench.Measuring;

namespace Pairbench.Reporting;

/// <summary>What a verdict is drawn with.</summary>
public static class VerdictShape
{
    /// <summary>The ruling whose shape and colour a verdict borrows: pass and corrections a filled disc, hold an open ring, reject a crossed square.</summary>
    public static Ruling Of(VerdictWord word) => word switch
    {
        VerdictWord.Pass or VerdictWord.PassWithCorrections => Ruling.Within,
        VerdictWord.Hold => Ruling.Undecided,
        _ => Ruling.Outside,
    };
}

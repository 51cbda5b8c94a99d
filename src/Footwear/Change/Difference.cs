using Pairbench.Measuring;

namespace Pairbench.Footwear.Change;

/// <summary>What can be said of a difference.</summary>
public enum ChangeWord
{
    /// <summary>Zero lies outside the interval of the difference.</summary>
    Changed,

    /// <summary>The interval of the difference excludes zero and lies within the tolerance: a real change that does not matter.</summary>
    ChangedWithinTolerance,

    /// <summary>The interval of the difference lies within the tolerance.</summary>
    Same,

    /// <summary>Neither is shown.</summary>
    CannotTell,
}

/// <summary>One figure before and after.</summary>
/// <param name="Of">After less before; causes that both share have cancelled as far as they do.</param>
/// <param name="Tolerance">Above zero in the unit of the figure; null where none was stated, and then nothing can be called the same unless both are exact.</param>
public sealed record Difference(PastFigure Before, PastFigure After, Measured Of, double? Tolerance)
{
    /// <summary>
    /// Two standard uncertainties of a normal value: wide enough that change and sameness are each claimed wrongly in fewer than one case of twenty.
    /// </summary>
    public const double Coverage = 0.9545;

    /// <summary>Whether the two can be set against each other, and how.</summary>
    /// <returns>Null where their units measure different things, such as two hardness scales.</returns>
    public static Difference? Between(PastFigure before, PastFigure after, double? tolerance)
    {
        ArgumentNullException.ThrowIfNull(before);
        ArgumentNullException.ThrowIfNull(after);
        return Units.TryConvert(after.Measured, before.Measured.Unit, out var converted)
            ? new Difference(before, after with { Measured = converted, Limit = after.Limit?.In(after.Measured.Unit, converted.Unit) }, converted - before.Measured, tolerance)
            : null;
    }

    /// <summary>Without uncertainty on both sides and moved by less than a hundredth; neither a ruling nor a stated tolerance makes it matter.</summary>
    public bool IsTrifle => AreExact && Tolerance is null && Before.Ruling == After.Ruling && Math.Abs(Of.Value) < 0.01 * Math.Max(Math.Abs(Before.Measured.Value), Math.Abs(After.Measured.Value));

    /// <summary>Each of the two is uncertain, but for nothing of its own: what is stated of them leaves no doubt of the difference.</summary>
    public bool HasNothingOfItsOwn => Of.IsExact && !AreExact;

    private bool AreExact => Before.Measured.IsExact && After.Measured.IsExact;

    public ChangeWord Word
    {
        get
        {
            var interval = Of.CoverageInterval(Coverage);
            var changed = !interval.Contains(0);
            var same = Tolerance is { } t ? interval.Lower >= -t && interval.Upper <= t : AreExact && Of.Value == 0;
            return (changed, same) switch
            {
                (true, true) => ChangeWord.ChangedWithinTolerance,
                (true, false) => ChangeWord.Changed,
                (false, true) => ChangeWord.Same,
                _ => ChangeWord.CannotTell,
            };
        }
    }

    public static string Words(ChangeWord word) => word switch
    {
        ChangeWord.Changed => "changed",
        ChangeWord.ChangedWithinTolerance => "changed, within tolerance",
        ChangeWord.Same => "same",
        _ => "cannot be told",
    };
}

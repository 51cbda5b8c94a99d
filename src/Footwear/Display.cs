using Pairbench.Measuring;

namespace Pairbench.Footwear;

/// <summary>Figures and limits as people read them.</summary>
public static class Display
{
    /// <summary>Value, expanded uncertainty and unit, digits following the uncertainty.</summary>
    public static string Of(Measured measured) => Shown.Of(measured).Text;

    public static string Of(Limit limit, string unit) => Shown.Of(limit, unit);
}

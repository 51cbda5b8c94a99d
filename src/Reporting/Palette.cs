using Pairbench.Measuring;

namespace Pairbench.Reporting;

/// <summary>
/// The colours of paper and ink as CSS hex. Each ruling has contrast of at least 4.5:1 on the paper (WCAG 2.2, 1.4.3) and is always accompanied by a shape and a word.
/// </summary>
public static class Palette
{
    public const string Paper = "#fbf9f5";

    public const string Ink = "#2b2a28";

    /// <summary>Secondary text; 4.5:1 on the paper.</summary>
    public const string Quiet = "#66625b";

    public const string Line = "#d8d3c8";

    /// <summary>A stretch that a limit allows.</summary>
    public const string Allowed = "#e6e1d5";

    /// <summary>Links and numbers of findings: none of the rulings.</summary>
    public const string Accent = "#4a4a86";

    public const string Within = "#22695a";

    public const string Outside = "#a3331f";

    public const string Undecided = "#7d5a00";

    /// <summary>The neutral grey that pictures lie on, the same in every theme.</summary>
    public const string PictureSurround = "#808080";

    /// <summary>The ink of a value by its ruling; plain ink where there is no limit.</summary>
    public static string Of(Ruling? ruling) => ruling switch
    {
        Ruling.Within => Within,
        Ruling.Outside => Outside,
        Ruling.Undecided => Undecided,
        _ => Ink,
    };
}

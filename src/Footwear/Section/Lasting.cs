using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Section;

/// <summary>
/// Upper and lining that a lasting method turns under or takes up in its seam: length of the feather edge times the margin, for two shoes.
/// </summary>
/// <remarks>The area is that of the flat pattern; pleats at toe and heel lie double and are in it.</remarks>
internal static class Lasting
{
    public static ImmutableArray<Figure> Figures(LastingOf lasting, string entry)
    {
        var board = Area(lasting.PerimeterMm, Margin(lasting.BoardMarginMm, 15, 3, $"board-margin:{entry}"));
        var strobel = Area(lasting.PerimeterMm, Margin(lasting.StrobelMarginMm, 4, 1, $"strobel-margin:{entry}"));
        var more = board - strobel;
        return [
            new Figure("lasting.board", "Upper and lining turned under by board lasting, a pair", board),
            new Figure("lasting.strobel", "Upper and lining taken up by the seam of a strobel sock, a pair", strobel),
            new Figure("lasting.difference", "What board lasting turns under more than a strobel sock takes, a pair", more),
            .. lasting.MassGM2 is { } mass ? [new Figure("lasting.mass-difference", "Mass of that, a pair", Measured.Linear("g", (Measured.Product(more, mass, "g"), 0.01)))] : ImmutableArray<Figure>.Empty,
            .. lasting.PricePerM2 is { } price ? [new Figure("lasting.money-difference", $"Material money of that, a pair, at {price.ToString("0.00", CultureInfo.InvariantCulture)}{(lasting.Currency is { } currency ? " " + currency : "")} for a square metre", Measured.Linear(lasting.Currency ?? "1", (more, price / 100)))] : ImmutableArray<Figure>.Empty,
        ];
    }

    public static IEnumerable<string> Assumptions(LastingOf lasting)
    {
        if (lasting.BoardMarginMm is null)
        {
            yield return "The lasting margin under a board is not stated: 15 mm, give or take 3 mm (common practice, no source).";
        }

        if (lasting.StrobelMarginMm is null)
        {
            yield return "The margin that the seam of a strobel sock takes is not stated: 4 mm, give or take 1 mm (common practice, no source).";
        }

        if (lasting is { PricePerM2: not null, Currency: null })
        {
            yield return "The currency of the price is not stated, so the money has none: give currency, such as USD.";
        }

        yield return "The area turned under is the length of the feather edge times the margin; insole board and sock, which differ in price too, are not in it.";
    }

    private static Measured Margin(Measured? given, double usual, double sigma, string cause) => given ?? Measured.Of(usual, "mm", cause, sigma);

    private static Measured Area(Measured perimeter, Measured margin) => Measured.Linear("dm2", (Measured.Product(perimeter, margin, "mm2"), 2e-4));
}

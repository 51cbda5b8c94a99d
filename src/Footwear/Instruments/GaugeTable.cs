using System.Collections.Immutable;
using System.ComponentModel;
using System.ComponentModel.DataAnnotations;

namespace Pairbench.Footwear.Instruments;

/// <summary>Who or what is compared in a gauge study.</summary>
public enum Compared
{
    Operators,
    Instruments,
}

/// <summary>The crossed table of a gauge study: everybody reads every part equally often.</summary>
/// <param name="Quantity">What was read.</param>
/// <param name="Unit">UCUM code; of a hardness study its scale.</param>
/// <param name="Names">Of the operators, or of the instruments, in the order of the readings.</param>
/// <param name="Readings">Part by part, in it name by name, in it the repeats.</param>
/// <param name="Tolerance">Width of the limit that the gauge has to judge, in the unit.</param>
/// <param name="PoolAbove">The interaction is pooled into the repeats when its probability lies above this.</param>
public sealed record GaugeTable(
    [RegularExpression(Footwear.Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string Id,
    [Description("the unit, such as mm; for hardness the scale, such as JisC")] string Unit,
    [MinLength(2, ErrorMessage = "name at least two"), MaxLength(50)] ImmutableArray<string> Names,
    [MinLength(2, ErrorMessage = "give at least two parts, better ten"), MaxLength(500), Description("a list of parts, in it a list for each name, in it the repeats")] ImmutableArray<ImmutableArray<ImmutableArray<double>>> Readings,
    Compared Compared = Compared.Operators,
    string? Quantity = null,
    [Range(0, 1e9, MinimumIsExclusive = true)] double? Tolerance = null,
    [Range(0, 1)] double PoolAbove = 0.25)
{
    /// <summary>Parts by names by repeats; faults where the table has a hole.</summary>
    internal double[,,] Cells(string where, List<Fault> faults)
    {
        var before = faults.Count;
        if (Names.Distinct(StringComparer.Ordinal).Count() < Names.Length)
        {
            faults.Add(new Fault(where + ".names", "has a name twice", "name each one once"));
        }

        var repeats = Readings.FirstOrDefault(r => r.Length > 0) is { IsEmpty: false } first ? first[0].Length : 0;
        foreach (var (part, p) in Readings.Select((r, p) => (r, p)))
        {
            if (part.Length != Names.Length)
            {
                faults.Add(new Fault($"{where}.readings[{p}]", $"has readings of {part.Length}", $"give those of each of the {Names.Length} that are named"));
                continue;
            }

            foreach (var (cell, n) in part.Select((c, n) => (c, n)))
            {
                if (cell.Length < 2 || cell.Length != repeats)
                {
                    faults.Add(new Fault($"{where}.readings[{p}][{n}]", $"has {cell.Length} readings", repeats < 2 ? "give at least two: without repeats nothing is known of the gauge" : $"give {repeats}, as in the first: all read every part equally often"));
                }
            }
        }

        if (faults.Count > before)
        {
            return new double[0, 0, 0];
        }

        var cells = new double[Readings.Length, Names.Length, repeats];
        for (var p = 0; p < Readings.Length; p++)
        {
            for (var n = 0; n < Names.Length; n++)
            {
                for (var k = 0; k < repeats; k++)
                {
                    cells[p, n, k] = Readings[p][n][k];
                }
            }
        }

        if (cells.Cast<double>().Distinct().Count() == 1)
        {
            faults.Add(new Fault(where + ".readings", "are all alike", "read parts that differ, with a step fine enough to see it"));
        }

        return cells;
    }
}

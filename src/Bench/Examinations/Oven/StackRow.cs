using System.Collections.Immutable;
using Pairbench.Footwear;

namespace Pairbench.Bench.Examinations.Oven;

/// <summary>One layer as the drawing shows it.</summary>
/// <param name="Index">In the evidence, from outside to inside.</param>
/// <param name="Mm">For the scale of the drawing; 0 where it is not known.</param>
/// <param name="Passes">Whether it goes through the oven.</param>
/// <param name="Result">What the oven said of it; empty where it said nothing.</param>
public sealed record StackRow(int Index, string Name, double Mm, string Thickness, string Hardness, string Limit, bool Passes, string Result, string Why);

/// <summary>Rows of an outcome's table as words by column.</summary>
public static class TableWords
{
    /// <summary>Every row of a table as its cells' words by column id; none where there is no such table.</summary>
    public static ImmutableArray<ImmutableDictionary<string, string>> Of(Outcome? outcome, string table) =>
        outcome?.Tables.FirstOrDefault(t => t.Id == table) is { } found
            ? [.. found.Rows.Select(r => found.Columns.Zip(r).ToImmutableDictionary(c => c.First.Id, c => Words(c.Second)))]
            : [];

    /// <summary>The number of a cell; 0 where it is none.</summary>
    public static double Number(Outcome? outcome, string table, int row, string column) =>
        outcome?.Tables.FirstOrDefault(t => t.Id == table) is { } found && row < found.Rows.Length
        && found.Columns.Select(c => c.Id).ToImmutableArray().IndexOf(column) is >= 0 and var at && found.Rows[row][at] is Cell.Number number
            ? number.Measured.Value
            : 0;

    private static string Words(Cell cell) => cell switch
    {
        Cell.Text text => text.Words,
        Cell.Number number => Display.Of(number.Measured),
        Cell.Texts texts => string.Join("; ", texts.Lines),
        _ => "",
    };
}

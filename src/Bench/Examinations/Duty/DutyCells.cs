using System.Collections.Immutable;
using Pairbench.Footwear;

namespace Pairbench.Bench.Examinations.Duty;

/// <summary>Cells of the tables of duty, as a person reads them.</summary>
internal static class DutyCells
{
    public static string Words(Cell cell) => cell switch
    {
        Cell.Text text => text.Words,
        Cell.Texts texts => string.Join("; ", texts.Lines),
        Cell.Number number => Display.InTable(number.Measured),
        _ => "",
    };

    /// <summary>What the outcome says in words of one thing; empty where it says nothing of it.</summary>
    public static string Says(Outcome outcome, string of) =>
        outcome.Tables.FirstOrDefault(t => t.Id == "says")?.Rows.FirstOrDefault(r => Words(r[0]) == of) is { IsDefault: false } row ? Words(row[1]) : "";

    public static string Line(ImmutableArray<Cell> row) => string.Join(" · ", row.Select(Words).Where(w => w.Length > 0));
}

using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Imaging;
using Pairbench.Measuring;

namespace Pairbench.Footwear;

/// <summary>How a table is written in JSON.</summary>
public enum TableForm
{
    /// <summary>Under <c>tables</c>, a list of rows.</summary>
    Rows,

    /// <summary>Beside <c>figures</c> under its own id, a list of rows.</summary>
    NamedRows,

    /// <summary>Beside <c>figures</c> under its own id, a list of the first column's texts.</summary>
    NamedTexts,

    /// <summary>Beside <c>figures</c> under its own id, an object with the first column as key.</summary>
    NamedByKey,
}

/// <summary>Named typed rows.</summary>
public sealed record Table(string Id, string Label, ImmutableArray<Column> Columns, ImmutableArray<ImmutableArray<Cell>> Rows, TableForm Form = TableForm.Rows)
{
    /// <summary>By row, the id of what it is about, for a page that asks for it: its words are for people and may change. Empty where the rows have none. Neither printed nor written.</summary>
    public ImmutableArray<string> Keys { get; init; } = [];

    /// <summary>The rows, their cells found by column.</summary>
    public ImmutableArray<TableRow> Read() => [.. Rows.Select((r, i) => new TableRow(this, r, Keys.IsEmpty ? "" : Keys[i]))];

    /// <summary>Whether a column, counted from 0, has a number in any row.</summary>
    public bool IsNumeric(int column) => Rows.Any(r => r[column] is Cell.Number);
}

/// <param name="Id">Unique in its table.</param>
public sealed record Column(string Id, string Label);

/// <summary>A row of a table, its cells found by the ids of their columns.</summary>
/// <param name="Key">Id of what it is about; empty where the table has no keys.</param>
public sealed record TableRow(Table Table, ImmutableArray<Cell> Cells, string Key)
{
    /// <summary>The cell of a column; empty where the table has no such column.</summary>
    public Cell this[string column]
    {
        get
        {
            for (var i = 0; i < Table.Columns.Length; i++)
            {
                if (Table.Columns[i].Id == column)
                {
                    return Cells[i];
                }
            }

            return new Cell.Empty();
        }
    }

    /// <summary>The cell of a column as people read it.</summary>
    public string Words(string column) => this[column].InWords();

    /// <summary>The number of a column; null where its cell is none.</summary>
    public Measured? Number(string column) => (this[column] as Cell.Number)?.Measured;

    /// <summary>The places of a column, in pixels of the photograph; none where its cell has none.</summary>
    public ImmutableArray<PixelPoint> Places(string column) => (this[column] as Cell.Places)?.Points ?? [];
}

/// <summary>One cell of a table.</summary>
public abstract record Cell
{
    private Cell()
    {
    }

    /// <summary>The cell as people read it, the same on a page, in a report and in a shell.</summary>
    /// <param name="between">What stands between the lines of a cell that has several.</param>
    public abstract string InWords(string between = "; ");

    /// <summary>Nothing to say here.</summary>
    public sealed record Empty : Cell
    {
        public override string InWords(string between = "; ") => "";
    }

    public sealed record Text(string Words) : Cell
    {
        public override string InWords(string between = "; ") => Words;
    }

    public sealed record Number(Measured Measured) : Cell
    {
        public override string InWords(string between = "; ") => Display.InTable(Measured);
    }

    public sealed record Texts(ImmutableArray<string> Lines) : Cell
    {
        public override string InWords(string between = "; ") => string.Join(between, Lines);
    }

    /// <summary>Places in a photograph, in pixels, for a page that draws them; printed as x and y, a place after the other.</summary>
    /// <param name="Decimals">That are printed: more would not be told apart.</param>
    public sealed record Places(ImmutableArray<PixelPoint> Points, int Decimals) : Cell
    {
        /// <remarks>On one line, whatever stands between those of other cells: a path has hundreds of places.</remarks>
        public override string InWords(string between = "; ")
        {
            var digits = Decimals == 0 ? "0" : "0." + new string('0', Decimals);
            return string.Join("; ", Points.Select(p => $"{p.X.ToString(digits, CultureInfo.InvariantCulture)} {p.Y.ToString(digits, CultureInfo.InvariantCulture)}"));
        }
    }

    public static implicit operator Cell(string words) => new Text(words);

    public static implicit operator Cell(Measured measured) => new Number(measured);

    public static Cell FromString(string words) => words;

    public static Cell FromMeasured(Measured measured) => measured;
}

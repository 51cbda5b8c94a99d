using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json;
using Pairbench.Measuring;

namespace Pairbench.Footwear;

/// <summary>What an examination found. Everything after an examination (report, comparison, trend, store, shell) knows only this.</summary>
public sealed record Outcome
{
    /// <summary>Name of the examination; set by the spine.</summary>
    public string Examination { get; init; } = "";

    /// <summary>Id of the entry; set by the spine.</summary>
    public string Entry { get; init; } = EntryAddress.Main;

    public ImmutableArray<Figure> Figures { get; init; } = [];

    public ImmutableArray<Finding> Findings { get; init; } = [];

    public ImmutableArray<Plate> Plates { get; init; } = [];

    public ImmutableArray<Table> Tables { get; init; } = [];

    /// <summary>What could not be seen or is still missing; a required one holds the verdict.</summary>
    public ImmutableArray<NotSeen> NotSeen { get; init; } = [];

    /// <summary>Everything that was taken for granted, a sentence each.</summary>
    public ImmutableArray<string> Assumptions { get; init; } = [];

    /// <summary>What the reader must heed, a sentence each.</summary>
    public ImmutableArray<string> Cautions { get; init; } = [];

    public ImmutableArray<Basis> Basis { get; init; } = [];

    /// <summary>Where it stands in its review.</summary>
    public EntryAddress Address => new(Examination, Entry);

    /// <summary>The table of an id; null where the outcome has none.</summary>
    public Table? Table(string id) => Tables.FirstOrDefault(t => t.Id == id);

    /// <summary>The rows of a table, their cells found by column; none where there is no such table.</summary>
    public ImmutableArray<TableRow> Rows(string table) => Table(table)?.Read() ?? [];
}

/// <summary>A named measured value and, where there is a limit, its ruling.</summary>
/// <param name="Id">Levels divided by dots, such as <c>share.textile</c>.</param>
/// <param name="Offer">The limit that rules the figure where entry, review, build and style have none; such as a published requirement that the evidence names, or what a material stands.</param>
public sealed record Figure(string Id, string Label, Measured Measured, Limit? Limit = null, Limit? Offer = null)
{
    /// <summary>What was counted on each piece, known exactly; empty for what was measured.</summary>
    public ImmutableArray<double> Pieces { get; init; } = [];

    /// <summary>What part of the shoe it is of; null where the evidence names none.</summary>
    public string? Component { get; init; }

    /// <summary>What the limit is held against: the figure, or of pieces that were counted the worst one, which stands for all. The figure stays what it is: one address is one quantity, whoever sets a limit.</summary>
    public Measured Ruled
    {
        get
        {
            double Beyond(double piece) => Math.Max(Limit!.Min - piece ?? double.NegativeInfinity, piece - Limit.Max ?? double.NegativeInfinity);
            return Limit is null || Pieces.IsEmpty ? Measured : Measured.Exact(Pieces.MaxBy(Beyond), Measured.Unit);
        }
    }

    /// <summary>The piece that the ruling rests on, in words; empty where the figure itself is ruled, or all pieces are alike.</summary>
    public string WorstPiece => Limit is null || Pieces.Distinct().Count() < 2 ? "" : string.Create(CultureInfo.InvariantCulture, $"worst of {Pieces.Length} pieces: {Display.Of(Ruled)}");

    /// <summary>Null where there is no limit.</summary>
    public Ruling? Ruling => Limit?.Rule(Ruled);

    /// <summary>Probability that the true value lies in the limit; null where there is none.</summary>
    public double? Conformance => Limit?.Conformance(Ruled);
}

/// <summary>Left or right shoe, or both.</summary>
public enum Side
{
    Left,
    Right,
    Both,
}

/// <summary>Something wrong or worth saying.</summary>
/// <param name="Id">Unique in its outcome; <see cref="Footwear.Id.Pattern"/>.</param>
/// <param name="Words">What is wrong.</param>
public sealed record Finding(string Id, Severity Severity, string Words)
{
    /// <summary>The catalogue check that it answers.</summary>
    public string? Check { get; init; }

    public string? Component { get; init; }

    public Side? Side { get; init; }

    public string? Zone { get; init; }

    /// <summary>What the factory should do.</summary>
    public string? Correction { get; init; }

    /// <summary>The photograph that shows it.</summary>
    public string? Photo { get; init; }

    /// <summary>The mark on the photograph as given in the evidence.</summary>
    public JsonElement? Mark { get; init; }

    /// <summary>The figure that it rests on, of its own outcome or of another; null where it rests on none.</summary>
    public FullAddress? Figure { get; init; }

    /// <summary>It says that the lot is refused, which is graver than one defect of its severity.</summary>
    public bool RefusesLot { get; init; }

    /// <summary>Address of the finding of an earlier review that it carries on.</summary>
    public string? CarriedFrom { get; init; }
}

/// <summary>A picture that an examination made.</summary>
/// <param name="File">File name for writing it out, unique in its outcome; the spine puts examination and entry before it.</param>
/// <param name="MediaType"><c>image/png</c>, <c>image/jpeg</c> or <c>image/svg+xml</c>.</param>
/// <param name="IsData">Its pixels are values for a program to read; a report does not print it.</param>
public sealed record Plate(string Id, string File, string Caption, string MediaType, ReadOnlyMemory<byte> Content, bool IsData = false);

/// <summary>Something that was not seen or is missing.</summary>
/// <param name="Required">A required one keeps the verdict on hold.</param>
public sealed record NotSeen(string Id, string Words, bool Required);

public enum BasisKind
{
    Law,
    Standard,
    Handbook,
    Practice,
}

/// <summary>What an outcome rests on.</summary>
/// <param name="Edition">Year or date; null where the reference has none.</param>
public sealed record Basis(BasisKind Kind, string Reference, string? Edition = null);

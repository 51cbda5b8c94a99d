using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear.Hardness;
using Pairbench.Footwear.Materials;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Readings;

/// <summary>Whether a document of requirements still stands.</summary>
public enum EditionStatus
{
    Current,
    Superseded,
    Withdrawn,
    Unknown,
}

/// <summary>Published requirements; none rules a reading until an item names it.</summary>
/// <param name="Conditioning">Of pieces and shoes before and in the test.</param>
public sealed record RequirementsFile(string Edition, string Source, string Words, Atmosphere Conditioning, [MinLength(1)] ImmutableArray<Requirement> Requirements)
{
    public const string File = "requirements/published.json";
}

/// <summary>The air that pieces lie in before and in a test.</summary>
public sealed record Atmosphere(double TemperatureC, double TemperatureWithin, double HumidityPct, double HumidityWithin, string Standard, ValueStatus Status)
{
    public string Words => FormattableString.Invariant($"{TemperatureC:0.#} ± {TemperatureWithin:0.#} °C and {HumidityPct:0.#} ± {HumidityWithin:0.#} % relative humidity ({Standard}, {MaterialTable.Words(Status)})");

    /// <summary>What of a room lies outside, such as <c>35 °C and 80 %</c>; empty where nothing stated does.</summary>
    public string Outside(Room? room)
    {
        static string? Off(Measured? value, double asked, double within, string unit) =>
            value is not null && Math.Abs(value.Value - asked) > within ? Shown.Number(value.Value, unit) : null;
        return string.Join(" and ", new[] { Off(room?.TemperatureC, TemperatureC, TemperatureWithin, "Cel"), Off(room?.HumidityPct, HumidityPct, HumidityWithin, "%") }.OfType<string>());
    }
}

/// <summary>One published requirement for a quantity by a method.</summary>
/// <param name="Group">Such as <c>abrasion</c> or <c>peel</c>.</param>
/// <param name="Methods">The standards that the reading may be taken by; without its method a limit means nothing.</param>
/// <param name="Category">Of footwear, in words.</param>
/// <param name="Unit">UCUM code of min and max; <c>1</c> for a count or a coefficient, <c>grade</c> for a grade by eye.</param>
/// <param name="Document">Where the requirement stands, with edition and clause.</param>
/// <param name="Status">Whether the figure was read in the source or is from memory.</param>
/// <param name="Counted">A count, or a level that the test is set to: known exactly.</param>
/// <param name="Condition">Of the material or test that the figure holds for; empty for none.</param>
public sealed record Requirement(
    [RegularExpression(Id.Pattern)] string Id,
    string Group,
    [MinLength(1)] ImmutableArray<string> Methods,
    string Component,
    string Category,
    string Quantity,
    string Unit,
    string Document,
    EditionStatus DocumentStatus,
    ValueStatus Status,
    string Source,
    string MethodEdition = "",
    double? Min = null,
    double? Max = null,
    string Condition = "",
    string Note = "",
    bool Counted = false)
{
    /// <summary>Whether a method as the reviewer wrote it names one of the standards, with or without its edition.</summary>
    public bool Takes(string method)
    {
        ArgumentNullException.ThrowIfNull(method);
        return Methods.Any(known => MethodName.Names(method, known));
    }

    /// <summary>Where it stands and for what, as the source of a limit.</summary>
    public string Words => string.Join(", ", new[] { Document, Category, Component, Condition }.Where(w => w.Length > 0));
}

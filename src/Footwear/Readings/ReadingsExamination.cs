using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Readings;

/// <summary>Readings of any other instrument.</summary>
public sealed record ReadingsEvidence(
    [MinLength(1)] ImmutableArray<ReadingItem> Items,
    string? Operator = null,
    DateOnly? ReadOn = null,
    [InUnit("Cel")] Measured? RoomTemperatureC = null,
    [InUnit("%")] Measured? HumidityPct = null);

/// <summary>Readings of one quantity.</summary>
/// <param name="Quantity">What was read, in words, such as <c>mass of the left shoe</c>.</param>
/// <param name="Unit">UCUM code, or <c>grade</c> for a grade given by eye.</param>
/// <param name="Resolution">Smallest step of the instrument.</param>
/// <param name="StandardUncertainty">Standard uncertainty of the instrument from its certificate, in the unit.</param>
/// <param name="Method">Method standard with its edition.</param>
/// <param name="Illuminant">Light under which a grade was given, such as D65.</param>
public sealed record ReadingItem(
    [RegularExpression(Id.Pattern, ErrorMessage = "use small letters, digits and single hyphens")] string Id,
    [MinLength(1)] string Quantity,
    string Unit,
    [MinLength(1)] ImmutableArray<double> Values,
    string? Method = null,
    [Range(0, 1e9, MinimumIsExclusive = true)] double? Resolution = null,
    [Range(0, 1e9)] double? StandardUncertainty = null,
    LimitOf? Limit = null,
    string? Instrument = null,
    DateOnly? CalibrationUntil = null,
    string? TestBlock = null,
    [Range(0, 1e6)] double? HoursSinceMoulding = null,
    string? Illuminant = null);

/// <summary>
/// The mean of each quantity with what is known of its uncertainty: spread of the values, step of the instrument, its certificate (JCGM 100:2008, 4).
/// </summary>
public sealed class ReadingsExamination : Examination<ReadingsEvidence>
{
    private const string Grade = "grade";

    public override string Name => "readings";

    public override string Title => "Readings";

    public override int Order => 220;

    public override Outcome Examine(ReadingsEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        var twice = evidence.Items.GroupBy(i => i.Id, StringComparer.Ordinal).Where(g => g.Count() > 1).Select(g => new Fault("items", $"'{g.Key}' stands {g.Count()} times", "give each item an id of its own")).ToList();
        if (twice.Count > 0)
        {
            throw new FaultsException(twice);
        }

        return new Outcome
        {
            Figures = [.. evidence.Items.Select(i => new Figure(i.Id, i.Quantity, Value(i), LimitOf(i, surroundings.Subject.Pair.Size)))],
            Tables = [Values(evidence.Items)],
            Assumptions = [.. evidence.Items.SelectMany(i => Assumed(i, evidence, surroundings.Subject))],
            Cautions = [.. evidence.Items.SelectMany(i => Heed(i, evidence, surroundings.Subject))],
            Basis = [.. evidence.Items.Where(i => i.Method is not null).Select(i => i.Method!).Distinct(StringComparer.Ordinal).Select(m => new Basis(BasisKind.Standard, m))],
        };
    }

    private static Measured Value(ReadingItem item)
    {
        var n = item.Values.Length;
        var mean = item.Values.Average();
        var budget = new List<Contribution>();
        if (n > 1)
        {
            var spread = Math.Sqrt(item.Values.Sum(v => (v - mean) * (v - mean)) / (n - 1));
            budget.Add(new Contribution($"readings:{item.Id}", Evaluation.TypeA, spread / Math.Sqrt(n), n - 1));
        }

        if (item.Resolution is { } step)
        {
            budget.Add(new Contribution($"resolution:{item.Id}", Evaluation.TypeB, step / Math.Sqrt(12)));
        }
        else if (item.Unit == Grade)
        {
            // Half grades by eye: the eye decides between neighbours, so a half step either way is possible.
            budget.Add(new Contribution($"eye:{item.Id}", Evaluation.TypeB, 0.5 / Math.Sqrt(6)));
        }

        if (item.StandardUncertainty is { } u)
        {
            budget.Add(new Contribution($"instrument:{item.Instrument ?? item.Id}", Evaluation.TypeB, u));
        }

        return Measured.Of(mean, item.Unit, budget);
    }

    private static Limit? LimitOf(ReadingItem item, string? size)
    {
        try
        {
            return item.Limit?.For(size);
        }
        catch (ArgumentException e)
        {
            throw new FaultsException(new Fault($"items.{item.Id}.limit", e.Message.TrimEnd('.'), "give min, max or both, min first"));
        }
    }

    private static IEnumerable<string> Assumed(ReadingItem item, ReadingsEvidence evidence, Subject subject)
    {
        if (item is { Values.Length: 1, Resolution: null, StandardUncertainty: null } && item.Unit != Grade)
        {
            yield return $"{item.Quantity}: one reading with no resolution and no certificate is taken as exact; nothing is known of its uncertainty.";
        }
        else if (item.StandardUncertainty is null && item.Unit != Grade)
        {
            yield return $"{item.Quantity}: nothing is stated of the instrument's own error; only spread and step count.";
        }

        var instrument = subject.Instruments.FirstOrDefault(i => i.Id == item.Instrument);
        var missing = new[]
        {
            (evidence.Operator is null, "operator"),
            (item.Instrument is null && item.Unit != Grade, "instrument"),
            (item.CalibrationUntil is null && instrument?.CalibrationUntil is null && item.Unit != Grade, "calibration date"),
            (item.Method is null, "method"),
            (evidence.RoomTemperatureC is null && subject.Room?.TemperatureC is null, "room temperature"),
            (evidence.HumidityPct is null && subject.Room?.HumidityPct is null, "humidity"),
            (item.Unit == Grade && item.Illuminant is null, "illuminant"),
        }.Where(m => m.Item1).Select(m => m.Item2).ToList();
        if (missing.Count > 0)
        {
            yield return $"{item.Quantity}: not stated: {string.Join(", ", missing)}. A factory can contest a reading without them.";
        }
    }

    private static IEnumerable<string> Heed(ReadingItem item, ReadingsEvidence evidence, Subject subject)
    {
        var until = item.CalibrationUntil ?? subject.Instruments.FirstOrDefault(i => i.Id == item.Instrument)?.CalibrationUntil;
        if (until is { } end && evidence.ReadOn is { } day && day > end)
        {
            yield return $"{item.Quantity}: the calibration ended on {end.ToString("d MMM yyyy", CultureInfo.InvariantCulture)}, before the reading.";
        }

        if (item.Unit == Grade && item.Values.Any(v => v is < 1 or > 5 || v * 2 != Math.Floor(v * 2)))
        {
            yield return $"{item.Quantity}: grades run from 1 to 5 in half steps.";
        }
    }

    private static Table Values(ImmutableArray<ReadingItem> items) => new(
        "values",
        "Values as read",
        [new("item", "Item"), new("quantity", "Quantity"), new("values", "Values"), new("method", "Method")],
        [.. items.Select(i => ImmutableArray.Create<Cell>(
            i.Id,
            i.Quantity,
            new Cell.Texts([.. i.Values.Select(v => v.ToString("G6", CultureInfo.InvariantCulture))]),
            i.Method ?? "not stated"))]);
}

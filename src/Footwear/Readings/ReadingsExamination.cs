using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear.Instruments;

namespace Pairbench.Footwear.Readings;

/// <summary>
/// Any other instrument: the mean of repeated values with its uncertainty from repeats, resolution and calibration (JCGM 100:2008, 4.2 and 4.3),
/// and grades given by eye as steps in order.
/// </summary>
public sealed class ReadingsExamination : Examination<ReadingsEvidence>
{
    public override string Name => "readings";

    public override string Title => "Readings";

    public override int Order => 250;

    public override bool LooksAtSubject => true;

    public override Outcome Examine(ReadingsEvidence evidence, Surroundings surroundings, CancellationToken cancellation)
    {
        ArgumentNullException.ThrowIfNull(evidence);
        ArgumentNullException.ThrowIfNull(surroundings);
        ImmutableArray<ItemRead> read = [.. evidence.Items.Select((item, i) => ItemRead.Of(item, evidence.Taken, surroundings, $"items[{i}]"))];
        var faults = read.SelectMany((r, i) => Twice(evidence, i).Concat(r.Faults)).ToList();
        if (evidence.Items.IsEmpty && evidence.Gauges.IsEmpty)
        {
            faults.Add(new Fault("items", "has 0 entries", "give at least one item, or a gauge study under gauges"));
        }

        var gauges = GaugeResult.Of(evidence.Gauges, surroundings.Entry, evidence.Items.Select(i => i.Id), faults);
        if (faults.Count > 0)
        {
            throw new FaultsException(faults);
        }

        // A grade by eye is read with no instrument.
        ImmutableArray<(Circumstances Circumstances, IReadOnlyList<string> Of)> taken = [.. read.Where(r => r.Known != Known.Graded)
            .GroupBy(r => r.Taken)
            .Select(g => (g.Key, (IReadOnlyList<string>)[.. g.Select(r => r.Item.Id)]))];
        ImmutableArray<NamedRequirement> requirements = [.. read.Select(r => r.Requirement).OfType<NamedRequirement>()];
        ImmutableArray<NamedMethod> methods = [.. evidence.Items.Select(i => NamedMethod.Of(i, surroundings.Catalogue)).OfType<NamedMethod>()];
        IEnumerable<Table> tables = [ValuesTable(evidence), NamedMethod.Table(methods), NamedRequirement.Table(requirements)];
        return new Outcome
        {
            Figures = [.. read.Select(r => r.Figure).OfType<Figure>(), .. gauges.SelectMany(g => g.Figures())],
            Tables = [.. tables.Where(t => !t.Rows.IsEmpty), .. GaugeResult.Tables(gauges), .. Circumstances.Tables(taken)],
            Assumptions = [.. taken.SelectMany(t => t.Circumstances.Assumptions())
                .Concat(read.SelectMany(r => r.Assumptions))
                .Concat(requirements.SelectMany(r => r.Assumptions()))
                .Concat(gauges.SelectMany(g => g.Assumptions()))
                .Distinct()],
            Cautions = [.. taken.SelectMany(t => t.Circumstances.Cautions())
                .Concat(read.SelectMany(r => r.Cautions))
                .Concat(methods.SelectMany(m => m.Cautions()))
                .Concat(requirements.SelectMany(r => r.Cautions()))
                .Concat(gauges.SelectMany(g => g.Cautions()))
                .Distinct()],
            Basis = [
                new Basis(BasisKind.Standard, "JCGM 100", "2008"),
                .. evidence.Taken.Standard is { } reference ? [new Basis(BasisKind.Standard, reference, evidence.Taken.Edition)] : ImmutableArray<Basis>.Empty,
                .. requirements.Select(r => new Basis(r.Requirement.Status == Hardness.ValueStatus.Practice ? BasisKind.Practice : BasisKind.Standard, r.Requirement.Document)).Distinct(),
                .. GaugeResult.Bases(gauges)],
        };
    }

    private static IEnumerable<Fault> Twice(ReadingsEvidence evidence, int index)
    {
        var id = evidence.Items[index].Id;
        if (evidence.Items.Take(index).Any(i => i.Id == id))
        {
            yield return new Fault($"items[{index}].id", $"'{id}' stands twice", "give each item an id of its own");
        }
    }

    private static Table ValuesTable(ReadingsEvidence evidence) => new(
        "values",
        "Values as read",
        [new("item", "Item"), new("quantity", "Quantity"), new("unit", "Unit"), new("values", "Values"), new("method", "Method"), new("instrument", "Instrument"), new("illuminant", "Light")],
        [.. evidence.Items.Select(i => ImmutableArray.Create<Cell>(
            i.Id,
            i.Quantity,
            i.Unit,
            string.Join(" ", i.Values.Select(v => v.ToString(CultureInfo.InvariantCulture))),
            Optional(i.Method),
            Optional(i.Instrument ?? evidence.Taken.Instrument),
            Optional(i.Illuminant)))]);

    private static Cell Optional(string? words) => words is null ? new Cell.Empty() : new Cell.Text(words);
}

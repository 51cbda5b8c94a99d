using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Marking;

/// <summary>The sizes that the labels of a pair state: whether they are one size, in one system and across systems.</summary>
internal sealed class SizeAgreement
{
    private const string Allowance = "last longer than the foot";

    /// <summary>Thirds are written out or to two decimals; sizes nearer than this are one.</summary>
    private const double Within = 0.01;

    private readonly SizeSystems _systems;
    private readonly ImmutableArray<(MarkedPlace Place, string Name, SizeSystem System, double Size, string Written)> _stated;

    private SizeAgreement(SizeSystems systems, ImmutableArray<(MarkedPlace, string, SizeSystem, double, string)> stated) => (_systems, _stated) = (systems, stated);

    /// <param name="faults">Takes systems that are unknown and sizes that are none.</param>
    public static SizeAgreement Of(SizeSystems systems, ImmutableArray<(MarkedPlace Place, string Name)> places, ICollection<Fault> faults)
    {
        var stated = ImmutableArray.CreateBuilder<(MarkedPlace, string, SizeSystem, double, string)>();
        for (var i = 0; i < places.Length; i++)
        {
            foreach (var (id, written) in (places[i].Place.Sizes ?? ImmutableDictionary<string, string>.Empty).OrderBy(s => s.Key, StringComparer.Ordinal))
            {
                var where = string.Create(CultureInfo.InvariantCulture, $"places[{i}].sizes.{id}");
                if (systems.Named(id) is not { } system)
                {
                    faults.Add(new Fault(where, "is no system of sizes", $"use one of {string.Join(", ", systems.Systems.Select(s => s.Id))}"));
                }
                else if (WrittenSize.Read(written) is not { } size)
                {
                    faults.Add(new Fault(where, $"is '{written}'", "write the size as it stands there, such as 42, 8.5, 8½ or 42 2/3"));
                }
                else
                {
                    stated.Add((places[i].Place, places[i].Name, system, size, written));
                }
            }
        }

        return new(systems, stated.ToImmutable());
    }

    public bool HasSizes => !_stated.IsEmpty;

    /// <summary>One size for each system that all places agree on, in the order of the data.</summary>
    private ImmutableArray<(SizeSystem System, double Size)> Agreed => [.. _systems.Systems
        .Select(s => (System: s, Sizes: _stated.Where(x => x.System.Id == s.Id).Select(x => x.Size).ToImmutableArray()))
        .Where(s => !s.Sizes.IsEmpty && AreOne(s.Sizes))
        .Select(s => (s.System, s.Sizes.MinBy(FromThirdsAndHalves)))];

    public bool Has(string system) => _stated.Any(s => s.System.Id == system);

    private static bool AreOne(IEnumerable<double> sizes) => sizes.Max() - sizes.Min() < Within;

    /// <summary>A size that is written as a fraction is closer to it than its decimals.</summary>
    private static double FromThirdsAndHalves(double size) => Math.Abs((6 * size) - Math.Round(6 * size));

    /// <summary>The length that each size stands for, and for each pair of systems how far their lasts lie apart.</summary>
    public IEnumerable<Figure> Figures()
    {
        var agreed = Agreed;
        foreach (var (system, size) in agreed)
        {
            var basis = system.Basis == SizeBasis.Foot ? "foot" : "last";
            yield return new Figure($"size.{system.Id}.{basis}", $"{system.Label} {Plain.Short(size)}: length of the {basis}", Measured.Exact(system.Length(size), "mm"));
        }

        for (var i = 0; i < agreed.Length; i++)
        {
            for (var k = i + 1; k < agreed.Length; k++)
            {
                yield return Difference(agreed[i], agreed[k]);
            }
        }
    }

    private Figure Difference((SizeSystem System, double Size) a, (SizeSystem System, double Size) b)
    {
        var family = a.System.Family is { } f && f == b.System.Family;
        var tolerance = !family ? _systems.OtherwiseWithinMm : a.System.Child && b.System.Child ? _systems.ChildrenWithinMm : _systems.SameFamilyWithinMm;
        var difference = Last(b) - Last(a);
        if (b.System.TradeOffset is { } trade && Math.Abs(difference.Value) > tolerance.Value)
        {
            // ISO and the trade number U.S. women's sizes differently; either is a proper relation.
            var other = Last((b.System with { Offset = trade }, b.Size)) - Last(a);
            difference = Math.Abs(other.Value) < Math.Abs(difference.Value) ? other : difference;
        }

        return new Figure(
            $"size.{a.System.Id}..{b.System.Id}.difference",
            $"{b.System.Label} {Plain.Short(b.Size)} less {a.System.Label} {Plain.Short(a.Size)}, length of the last",
            difference,
            Offer: new Limit(-tolerance.Value, tolerance.Value, Severity.Minor, tolerance.Source));
    }

    private Measured Last((SizeSystem System, double Size) stated)
    {
        var length = stated.System.Length(stated.Size);
        var (low, high) = (_systems.LastLongerThanFootMm.Low, _systems.LastLongerThanFootMm.High);
        return stated.System.Basis == SizeBasis.Last
            ? Measured.Exact(length, "mm")
            : Measured.Of(length + ((low + high) / 2), "mm", Allowance, TypeB.Uniform((high - low) / 2));
    }

    /// <summary>Places that state different sizes of one system, and sizes that are no row of the style's chart.</summary>
    public IEnumerable<Finding> Findings(ImmutableArray<ImmutableDictionary<string, string>> chart, (string System, double Size)? pair)
    {
        foreach (var system in _stated.GroupBy(s => s.System.Id, StringComparer.Ordinal).Where(g => !AreOne(g.Select(s => s.Size))))
        {
            var label = system.First().System.Label;
            yield return new Finding($"size-{system.Key}-differs", Severity.Major, $"{label} sizes differ: {string.Join(", ", system.Select(s => $"{s.Name} {s.Written}"))}.")
            {
                Component = "marking",
                Correction = "Find out which size the shoes are, mark everything with it, and look through the lot for pairs packed wrongly.",
            };
        }

        foreach (var wrong in _stated.Where(s => pair is { } p && s.System.Id == p.System && !AreOne([s.Size, p.Size])))
        {
            yield return new Finding($"{wrong.Name}-not-the-size-of-the-pair", Severity.Major, $"{wrong.Name} says {wrong.System.Label} {wrong.Written}; the pair is {wrong.System.Label} {Plain.Short(pair!.Value.Size)}.")
            {
                Component = "marking",
                Correction = "Find out which size the shoes are and mark everything with it.",
            };
        }

        if (chart.IsEmpty)
        {
            yield break;
        }

        foreach (var place in _stated.GroupBy(s => s.Name, StringComparer.Ordinal).Where(g => !chart.Any(row => Fits(row, g.Select(s => (s.System.Id, s.Size))))))
        {
            yield return new Finding($"{place.Key}-not-of-the-chart", Severity.Major, $"{place.Key}: {string.Join(", ", place.Select(s => $"{s.System.Label} {s.Written}"))} is no row of the style's size chart.")
            {
                Component = "marking",
                Correction = "Mark the sizes of one row of the size chart.",
            };
        }
    }

    private static bool Fits(ImmutableDictionary<string, string> row, IEnumerable<(string System, double Size)> sizes) =>
        sizes.All(s => row.TryGetValue(s.System, out var written) && WrittenSize.Read(written) is { } size && AreOne([size, s.Size]));

    /// <summary>What the size is in every system: by the standard's table where its row is known, and by formula.</summary>
    public Table? Conversions()
    {
        if (Agreed is not { IsEmpty: false } agreed)
        {
            return null;
        }

        var (system, size) = agreed[0];
        var last = Last((system, size)).Value;
        var foot = system.Basis == SizeBasis.Foot ? system.Length(size) : last - ((_systems.LastLongerThanFootMm.Low + _systems.LastLongerThanFootMm.High) / 2);
        var row = _systems.Rows.FirstOrDefault(r => agreed.Any(a => r.TryGetValue(a.System.Id, out var cell) && cell.ValueKind == System.Text.Json.JsonValueKind.Number && AreOne([cell.GetDouble(), a.Size])));
        return new Table(
            "sizes",
            $"{system.Label} {Plain.Short(size)} in other systems: marking goes by the table, the last by the formula, and they do not agree",
            [new("system", "System"), new("marked", "Marked"), new("table", "By the table of ISO/TS 19407"), new("formula", "By formula")],
            [.. _systems.Systems.Where(s => s.Child == system.Child || s.Basis == SizeBasis.Foot).Select(s => ImmutableArray.Create<Cell>(
                s.Label,
                string.Join(", ", _stated.Where(x => x.System.Id == s.Id).Select(x => x.Written).Distinct()),
                row is not null && row.TryGetValue(s.Id, out var known) ? Plain.Short(known.GetDouble()) : "row not known",
                Plain.Short(Math.Round(s.Size(s.Basis == SizeBasis.Foot ? foot : last), 2))))]);
    }
}

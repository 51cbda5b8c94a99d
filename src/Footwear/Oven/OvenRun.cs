using System.Collections.Immutable;
using Pairbench.Footwear.Materials;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Oven;

/// <summary>One layer after the oven.</summary>
/// <param name="Peak">Until the end of the programme.</param>
/// <param name="Margin">Limit less peak, K; null where the material has no limit. Where the layer is still getting hotter at the end, how much hotter it may get is in its uncertainty.</param>
/// <param name="AboveSoftening">Minutes, drawn when asked for; null where no softening is known.</param>
/// <param name="Core">Equivalent minutes at the place of the layer that cures least; null where it does not cure.</param>
internal sealed record LayerHeat(OvenLayer Layer, Measured Peak, double PeakAtMinutes, Measured? Margin, Func<Measured>? AboveSoftening, Measured? Core, LateRise? Rise)
{
    /// <summary>How surely the layer stays below its limit; null where there is none.</summary>
    public Ruling? Ruling => Margin is null ? null : LimitOfMargin().Rule(Margin);

    public Limit LimitOfMargin() => new(0, null, Severity.Major, $"limit of {Layer.Material.Name}: {Layer.Material.Limit!.Source}");
}

/// <summary>A layer that is still getting hotter when the programme ends, since heat goes on flowing into it from hotter ones.</summary>
/// <param name="RateKmin">How fast it does, K/min.</param>
/// <param name="AtMostK">How much hotter than its peak until then it can get: to what the hottest place of the stack has by then, since what follows is cooler.</param>
internal sealed record LateRise(double RateKmin, double AtMostK)
{
    /// <summary>A layer that gets hotter more slowly has settled, K/min: half a degree takes it twenty-five minutes.</summary>
    private const double Settled = 0.02;

    /// <summary>Null where the layer has settled, cools or is the hottest.</summary>
    public static LateRise? Of(HeatResult result, int layer) =>
        result.EndRiseKmin[layer] > Settled && result.EndC.Max() - result.PeakC[layer] is > 0 and var atMost ? new(result.EndRiseKmin[layer], atMost) : null;
}

/// <summary>A stack run through its programme, with the uncertainty of everything that went in.</summary>
/// <param name="Core">Equivalent minutes at the place of all curing layers that cures least; null where nothing cures.</param>
/// <param name="Surface">Equivalent minutes at the outer face of the outermost curing layer.</param>
/// <param name="SurfaceRate">Fastest rise of that face over five minutes, K/min.</param>
internal sealed record OvenRun(
    ImmutableArray<LayerHeat> Layers,
    Measured? Core,
    Measured? Surface,
    Measured SurfaceRate,
    SlabRun Balance,
    HeatRecord Record)
{
    private const int Cells = 32;
    private const double Rounding = 1e-9;

    /// <summary>
    /// Each cause of every input is moved by its standard uncertainty either way, all inputs that it is behind together, and the stack is run
    /// anew with the same steps of time; half the difference is the contribution of the cause (JCGM 100:2008, 5.1.3, note 2). What a mesh of half
    /// as many cells gives otherwise is one more cause. Times above softening: see <see cref="SofteningTime"/>.
    /// </summary>
    public static OvenRun Of(OvenStack stack, string entry, CancellationToken cancellation)
    {
        var values = stack.Values;
        var (at, record, run) = Run(stack, values, Cells, null, keep: true, cancellation);
        var core = stack.Curing.Select(l => Least(record, at, l)).ToImmutableArray();
        var (coarse, coarseRecord, _) = Run(stack, values, Cells / 2, run.Steps, keep: false, cancellation);
        var swings = CausesOf(stack).Select(cause =>
        {
            var (more, moreRecord, _) = Run(stack, Moved(stack, values, cause.Cause, 1), Cells, run.Steps, keep: false, cancellation);
            var (less, lessRecord, _) = Run(stack, Moved(stack, values, cause.Cause, -1), Cells, run.Steps, keep: false, cancellation);
            return (Cause: cause, More: more, Less: less, MoreRecord: moreRecord, LessRecord: lessRecord);
        }).ToImmutableArray();

        Measured Figure(string unit, Func<HeatResult, double> of, double mesh)
        {
            // What nothing moves is left with the rounding of the arithmetic, which is no uncertainty.
            var least = Rounding * Math.Max(1, Math.Abs(of(at)));
            return Measured.Of(of(at), unit, swings.Select(s => s.Cause with { Value = (of(s.More) - of(s.Less)) / 2 })
                .Append(new Contribution($"mesh:{entry}", Evaluation.TypeB, mesh))
                .Where(c => Math.Abs(c.Value) > least));
        }

        Measured Same(string unit, Func<HeatResult, double> of) => Figure(unit, of, (of(at) - of(coarse)) / 3);
        Measured Cured(int place, int placeOfCoarse) => Figure("min", r => r.CureOfPlace[place], (at.CureOfPlace[place] - coarse.CureOfPlace[placeOfCoarse]) / 3);

        Measured Above(OvenLayer layer, MaterialValue softening, int l)
        {
            double[] Half(HeatRecord one, HeatRecord other, double divisor) => [.. one.Hottest(l).Ends.Zip(other.Hottest(l).Ends, (a, b) => (a - b) / divisor)];
            return SofteningTime.Of(
                record.Hottest(l),
                softening,
                swings.Select(s => (s.Cause, Half(s.MoreRecord, s.LessRecord, 2))).Append((new Contribution($"mesh:{entry}", Evaluation.TypeB, 1), Half(record, coarseRecord, 3))),
                $"oven/{entry}/{layer.Id}.above-softening");
        }

        var layers = stack.Layers.Select((layer, l) =>
        {
            var peak = Same("Cel", r => r.PeakC[l]);
            var cures = stack.Curing.IndexOf(l);
            var rise = LateRise.Of(at, l);
            return new LayerHeat(
                layer,
                peak,
                at.PeakAtSeconds[l] / 60,
                layer.Material.Limit is { } limit ? Margin(limit.Measured, peak, rise, $"after-programme:{entry}/{layer.Id}") : null,
                layer.Material.Softening is { } softening ? () => Above(layer, softening, l) : null,
                cures < 0 ? null : Cured(core[cures], Least(coarseRecord, coarse, l)),
                rise);
        }).ToImmutableArray();
        return new(
            layers,
            layers.Select(l => l.Core).OfType<Measured>().MinBy(c => c.Value),
            stack.Curing.IsEmpty ? null : Cured(record.PlacesOf(stack.Curing[0]).Start.Value, coarseRecord.PlacesOf(stack.Curing[0]).Start.Value),
            Same("K/min", r => r.SurfaceRateKmin),
            run,
            record);
    }

    /// <summary>The true peak of a layer that is still getting hotter lies anywhere from what is reckoned to as much as it can get, which is beside the middle of that range (JCGM 100:2008, 4.3.7).</summary>
    private static Measured Margin(Measured limit, Measured peak, LateRise? rise, string cause)
    {
        var margin = Measured.Linear("K", (limit, 1), (peak, -1));
        return rise is { } late ? Measured.Of(margin.Value, "K", margin.Budget.Add(new Contribution(cause, Evaluation.TypeB, TypeB.UniformAbout(0, 0, late.AtMostK)))) : margin;
    }

    private static int Least(HeatRecord record, HeatResult result, int layer)
    {
        var (from, to) = (record.PlacesOf(layer).Start.Value, record.PlacesOf(layer).End.Value);
        return Enumerable.Range(from, to - from).MinBy(p => result.CureOfPlace[p]);
    }

    private static (HeatResult Result, HeatRecord Record, SlabRun Run) Run(OvenStack stack, double[] values, int cells, ImmutableArray<ImmutableArray<double>>? steps, bool keep, CancellationToken cancellation)
    {
        var slab = stack.Slab(values, cells);
        var record = new HeatRecord(slab, stack.Curing, stack.Law(values), keep);
        var run = SlabHeating.Run(slab, record.See, steps, cancellation);
        var result = record.Result();
        return result.IsFinite ? (result, record, run) : throw SlabHeating.OutOfReach();
    }

    private static IEnumerable<Contribution> CausesOf(OvenStack stack) => stack.Inputs.ToArray()
        .SelectMany(i => i.Budget)
        .GroupBy(c => c.Cause, StringComparer.Ordinal)
        .Select(g => g.MinBy(c => c.DegreesOfFreedom))
        .OrderBy(c => c.Cause, StringComparer.Ordinal);

    private static double[] Moved(OvenStack stack, double[] values, string cause, int by)
    {
        var moved = (double[])values.Clone();
        for (var i = 0; i < moved.Length; i++)
        {
            moved[i] += by * stack.Inputs[i].Budget.FirstOrDefault(c => c.Cause == cause).Value;
        }

        return moved;
    }
}

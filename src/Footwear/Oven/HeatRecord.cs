using System.Collections.Immutable;

namespace Pairbench.Footwear.Oven;


/// <summary>What one run gives, by layer from outside to inside. Temperatures Cel, times s, cures minutes.</summary>
/// <param name="EndRiseKmin">How fast the hottest place was getting hotter when the programme ended, K/min; below zero where it cooled.</param>
/// <param name="CureOfPlace">Equivalent cure of every place of the slab; zero where nothing cures.</param>
/// <param name="SurfaceRateKmin">Fastest rise over five minutes of the outer face of the outermost curing layer, else of the stack.</param>
internal sealed record HeatResult(
    double[] PeakC,
    double[] PeakAtSeconds,
    double[] EndC,
    double[] EndRiseKmin,
    double[] CureOfPlace,
    double SurfaceRateKmin)
{
    public bool IsFinite => double.IsFinite(SurfaceRateKmin) && PeakC.Concat(PeakAtSeconds).Concat(EndC).Concat(EndRiseKmin).Concat(CureOfPlace).All(double.IsFinite);
}

/// <summary>Watches a run: peaks, hottest places, equivalent cure, rise of the outer face, and profiles for the plot.</summary>
internal sealed class HeatRecord
{
    /// <summary>Rates of rise are taken over this time: over less, a step of the air has no finite one.</summary>
    public const double RateSeconds = 300;

    private readonly SlabGrid _grid;
    private readonly CureLaw _law;
    private readonly bool[] _cures;
    private readonly bool _keep;
    private readonly double[] _peak;
    private readonly double[] _peakAt;
    private readonly HottestPlace[] _hottest;
    private readonly double[] _end;
    private readonly double[] _endRise;
    private readonly double[] _cure;
    private readonly List<(double Seconds, double C)> _surface = [];
    private readonly int _ratePlace;

    /// <param name="keep">Keep all profiles.</param>
    public HeatRecord(Slab slab, ImmutableArray<int> curing, CureLaw law, bool keep)
    {
        _grid = new SlabGrid(slab);
        _law = law;
        _keep = keep;
        _cures = [.. Enumerable.Range(0, _grid.Layers).Select(curing.Contains)];
        _peak = [.. Enumerable.Repeat(slab.StartC, _grid.Layers)];
        _peakAt = new double[_grid.Layers];
        _hottest = [.. Enumerable.Range(0, _grid.Layers).Select(_ => new HottestPlace())];
        _end = [.. Enumerable.Repeat(slab.StartC, _grid.Layers)];
        _endRise = new double[_grid.Layers];
        _cure = new double[_grid.Places];
        _ratePlace = curing.IsEmpty ? 0 : _grid.PlacesOf(curing[0]).Start.Value;
        _surface.Add((0, slab.StartC));
        if (keep)
        {
            Profiles.Add((0, [.. Enumerable.Repeat(slab.StartC, _grid.Places)]));
        }
    }

    /// <summary>Temperatures of all places at the ends of steps; at the start alone unless asked to keep them.</summary>
    public List<(double Seconds, double[] C)> Profiles { get; } = [];

    public double[] Depths => _grid.Depths;

    public Range PlacesOf(int layer) => _grid.PlacesOf(layer);

    public void See(in SlabStep step)
    {
        var end = step.Start + step.Seconds;
        for (var l = 0; l < _grid.Layers; l++)
        {
            var (from, to) = (_grid.PlacesOf(l).Start.Value, _grid.PlacesOf(l).End.Value);
            var (before, after) = (double.MinValue, double.MinValue);
            for (var p = from; p < to; p++)
            {
                before = Math.Max(before, step.Before[p]);
                after = Math.Max(after, step.After[p]);
            }

            if (after > _peak[l])
            {
                (_peak[l], _peakAt[l]) = (after, end);
            }

            _end[l] = after;
            _endRise[l] = (after - before) / step.Seconds * 60;
            _hottest[l].Add(step.Seconds, before, after);
            if (_cures[l])
            {
                for (var p = from; p < to; p++)
                {
                    // Simpson's rule.
                    _cure[p] += step.Seconds / 360 * (_law.Rate(step.Before[p]) + (4 * _law.Rate(step.Midway(p))) + _law.Rate(step.After[p]));
                }
            }
        }

        _surface.Add((end, step.After[_ratePlace]));
        if (_keep)
        {
            Profiles.Add((end, step.After.ToArray()));
        }
    }

    /// <summary>The hottest place of a layer over time.</summary>
    public HottestPlace Hottest(int layer) => _hottest[layer];

    public HeatResult Result() => new(_peak, _peakAt, _end, _endRise, _cure, FastestRise());

    private double FastestRise()
    {
        var most = 0.0;
        var late = 0;
        for (var early = 0; early < _surface.Count && late < _surface.Count; early++)
        {
            while (late < _surface.Count && _surface[late].Seconds < _surface[early].Seconds + RateSeconds)
            {
                late++;
            }

            if (late < _surface.Count)
            {
                var (a, b, at) = (_surface[late - 1], _surface[late], _surface[early].Seconds + RateSeconds);
                var then = a.C + ((b.C - a.C) * (at - a.Seconds) / (b.Seconds - a.Seconds));
                most = Math.Max(most, (then - _surface[early].C) / RateSeconds * 60);
            }
        }

        return most;
    }
}

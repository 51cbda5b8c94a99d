using System.Collections.Immutable;

namespace Pairbench.Footwear.Oven;

/// <summary>One step of time as an observer sees it: temperatures and their rates of change at all places at both ends.</summary>
internal readonly ref struct SlabStep(double start, double seconds, ReadOnlySpan<double> before, ReadOnlySpan<double> after, ReadOnlySpan<double> rateBefore, ReadOnlySpan<double> rateAfter)
{
    public double Start { get; } = start;

    public double Seconds { get; } = seconds;

    public ReadOnlySpan<double> Before { get; } = before;

    public ReadOnlySpan<double> After { get; } = after;

    /// <summary>Temperature half way through the step by cubic interpolation.</summary>
    public double Midway(int place) => ((Before[place] + After[place]) / 2) + (Seconds * (RateBefore[place] - RateAfter[place]) / 8);

    private ReadOnlySpan<double> RateBefore { get; } = rateBefore;

    private ReadOnlySpan<double> RateAfter { get; } = rateAfter;
}

internal delegate void SlabObserver(in SlabStep step);

/// <summary>How a run went.</summary>
/// <param name="Steps">Lengths of the steps in s, by stretch of the programme; a run with slightly other values can take the same ones.</param>
/// <param name="HeatInJm2">Heat that passed both faces, by the flows of every stage, J/m2.</param>
/// <param name="HeatStoredJm2">Heat that the cells hold more at the end than at the start, J/m2.</param>
/// <param name="HeatTurnedOverJm2">Sum of the amounts that passed either face, whichever way, J/m2.</param>
internal sealed record SlabRun(ImmutableArray<ImmutableArray<double>> Steps, ImmutableArray<double> EndC, double HeatInJm2, double HeatStoredJm2, double HeatTurnedOverJm2)
{
    /// <summary>What the energy balance misses, as a share of the heat turned over.</summary>
    public double Imbalance => HeatTurnedOverJm2 > 0 ? Math.Abs(HeatInJm2 - HeatStoredJm2) / HeatTurnedOverJm2 : 0;
}

/// <summary>
/// Transient conduction through a slab: implicit finite volumes, in time the one-step form of the trapezoidal rule followed by the second
/// backward difference (L-stable, second order), its step chosen by an embedded third-order estimate.
/// </summary>
/// <remarks>Method: R. E. Bank and others, Transient simulation of silicon devices and circuits, IEEE Trans. CAD 4 (1985); error estimate and filter by M. E. Hosea and L. F. Shampine, Applied Numerical Mathematics 20 (1996) (both from memory).</remarks>
internal sealed class SlabHeating
{
    /// <summary>Error of one step, K.</summary>
    private const double Tolerance = 5e-4;

    /// <summary>No place changes by more in one step, K: cure rates are integrated between the ends.</summary>
    private const double MostChange = 5;

    private const double LongestStep = 120;

    /// <summary>The longest programmes take some thousand steps.</summary>
    private const int MostSteps = 100_000;

    private static readonly double Gamma = 2 - Math.Sqrt(2);
    private static readonly double D = Gamma / 2;
    private static readonly double W = Math.Sqrt(2) / 4;

    private readonly Slab _slab;
    private readonly SlabGrid _grid;
    private readonly double[] _now;
    private readonly double[] _k1;
    private readonly double[] _k2;
    private readonly double[] _k3;
    private readonly double[] _stage;
    private readonly double[] _next;
    private readonly double[] _pivot;
    private readonly double[] _upper;
    private readonly double[] _error;
    private readonly double[][] _places;
    private double _factored = double.NaN;
    private double _heatIn;
    private double _turnedOver;

    private SlabHeating(Slab slab)
    {
        _slab = slab;
        _grid = new SlabGrid(slab);
        var n = _grid.Cells;
        _now = new double[n];
        Array.Fill(_now, slab.StartC);
        (_k1, _k2, _k3, _stage, _next, _pivot, _upper, _error) = (new double[n], new double[n], new double[n], new double[n], new double[n], new double[n], new double[n], new double[n]);
        _places = [new double[_grid.Places], new double[_grid.Places], new double[_grid.Places], new double[_grid.Places]];
    }

    /// <summary>Runs the whole programme.</summary>
    /// <param name="steps">Steps of an earlier run, to be taken again without control; chosen here where null.</param>
    /// <exception cref="FaultsException">The numbers lead out of what can be reckoned.</exception>
    public static SlabRun Run(Slab slab, SlabObserver observer, ImmutableArray<ImmutableArray<double>>? steps = null, CancellationToken cancellation = default)
    {
        var heating = new SlabHeating(slab);
        var taken = ImmutableArray.CreateBuilder<ImmutableArray<double>>();
        var time = 0.0;
        for (var s = 0; s < slab.Air.Length; s++)
        {
            cancellation.ThrowIfCancellationRequested();
            taken.Add(steps is { } known ? heating.Repeat(slab.Air[s], time, known[s], observer) : heating.Adapt(slab.Air[s], time, observer, cancellation));
            time += slab.Air[s].Seconds;
        }

        var stored = 0.0;
        for (var i = 0; i < heating._grid.Cells; i++)
        {
            stored += heating._grid.Capacity[i] * (heating._now[i] - slab.StartC);
        }

        return new SlabRun(taken.ToImmutable(), [.. heating._now], heating._heatIn, stored, heating._turnedOver);
    }

    /// <summary>What is told where the numbers of a stack give no temperatures.</summary>
    public static FaultsException OutOfReach() => new(new Fault(
        "stack",
        "gives no temperatures that can be reckoned with",
        "look for a thickness, film, material value or uncertainty that is wrong by powers of ten"));

    private ImmutableArray<double> Repeat(AirStretch air, double time, ImmutableArray<double> steps, SlabObserver observer)
    {
        var done = 0.0;
        var total = steps.Sum();
        foreach (var step in steps)
        {
            // The stretch may be a little longer than when its steps were chosen.
            var seconds = step * air.Seconds / total;
            Try(air, done, seconds);
            Accept(air, time, done, seconds, observer);
            done += seconds;
        }

        return steps;
    }

    private ImmutableArray<double> Adapt(AirStretch air, double time, SlabObserver observer, CancellationToken cancellation)
    {
        var steps = ImmutableArray.CreateBuilder<double>();
        var seconds = Math.Min(0.05, air.Seconds);
        var done = 0.0;
        while (done < air.Seconds * (1 - 1e-12))
        {
            cancellation.ThrowIfCancellationRequested();
            seconds = Math.Min(seconds, air.Seconds - done);
            Try(air, done, seconds);
            var ratio = Math.Max(Math.Cbrt(Error(seconds) / Tolerance), Change() / MostChange);
            if (double.IsNaN(ratio) || steps.Count > MostSteps)
            {
                throw OutOfReach();
            }

            if (ratio <= 1 || seconds < 1e-6)
            {
                Accept(air, time, done, seconds, observer);
                steps.Add(seconds);
                done += seconds;
            }

            seconds = Math.Min(LongestStep, seconds * Math.Clamp(0.85 / Math.Max(ratio, 1e-9), 0.2, 3));
        }

        return steps.ToImmutable();
    }

    /// <summary>The three stages of a step from the present temperatures; the result is in the next ones.</summary>
    private void Try(AirStretch air, double done, double seconds)
    {
        Factor(D * seconds);
        Rates(_now, _grid.Air(air.At(done)), _k1);
        for (var i = 0; i < _now.Length; i++)
        {
            _stage[i] = _now[i] + (seconds * D * _k1[i]);
        }

        Stage(_grid.Air(air.At(done + (Gamma * seconds))), seconds, _k2);
        for (var i = 0; i < _now.Length; i++)
        {
            _stage[i] = _now[i] + (seconds * W * (_k1[i] + _k2[i]));
        }

        Stage(_grid.Air(air.At(done + seconds)), seconds, _k3);
    }

    /// <summary>Solves one implicit stage; its temperatures go to the next ones, its rates to <paramref name="rates"/>.</summary>
    private void Stage((double Outer, double Inner) air, double seconds, double[] rates)
    {
        var by = D * seconds;
        for (var i = 0; i < _next.Length; i++)
        {
            _next[i] = _grid.Capacity[i] * _stage[i];
        }

        _next[0] += by * _grid.Between[0] * air.Outer;
        _next[^1] += by * _grid.Between[^1] * air.Inner;
        Solve(_next);
        for (var i = 0; i < _next.Length; i++)
        {
            rates[i] = (_next[i] - _stage[i]) / by;
        }
    }

    private void Accept(AirStretch air, double time, double done, double seconds, SlabObserver observer)
    {
        CountHeat(air, done, seconds);
        var slope = _grid.AirSlope(air.Slope);
        _grid.ToPlaces(_now, _grid.Air(air.At(done)), _places[0]);
        _grid.ToPlaces(_next, _grid.Air(air.At(done + seconds)), _places[1]);
        _grid.ToPlaces(_k1, slope, _places[2]);
        _grid.ToPlaces(_k3, slope, _places[3]);
        observer(new SlabStep(time + done, seconds, _places[0], _places[1], _places[2], _places[3]));
        _next.CopyTo(_now, 0);
    }

    /// <summary>Heat through both faces with the weights of the stages; the temperature of the middle stage follows from its rates.</summary>
    private void CountHeat(AirStretch air, double done, double seconds)
    {
        double Flow(int cell, int face, Func<(double Outer, double Inner), double> side)
        {
            var middle = _now[cell] + (seconds * D * (_k1[cell] + _k2[cell]));
            return seconds * _grid.Between[face] * (
                (W * (side(_grid.Air(air.At(done))) - _now[cell]))
                + (W * (side(_grid.Air(air.At(done + (Gamma * seconds)))) - middle))
                + (D * (side(_grid.Air(air.At(done + seconds))) - _next[cell])));
        }

        var outer = Flow(0, 0, static a => a.Outer);
        var inner = Flow(_grid.Cells - 1, _grid.Cells, static a => a.Inner);
        _heatIn += outer + inner;
        _turnedOver += Math.Abs(outer) + Math.Abs(inner);
    }

    private void Rates(double[] at, (double Outer, double Inner) air, double[] rates)
    {
        var last = at.Length - 1;
        var flow = _grid.Between[0] * (air.Outer - at[0]);
        for (var i = 0; i <= last; i++)
        {
            var on = i == last ? _grid.Between[last + 1] * (at[last] - air.Inner) : _grid.Between[i + 1] * (at[i] - at[i + 1]);
            rates[i] = (flow - on) / _grid.Capacity[i];
            flow = on;
        }
    }

    private double Error(double seconds)
    {
        for (var i = 0; i < _error.Length; i++)
        {
            _error[i] = _grid.Capacity[i] * seconds * ((((4 * W) - 1) * _k1[i]) - _k2[i] + (2 * D * _k3[i])) / 3;
        }

        // Filtered: otherwise stiff parts that have long died out would keep the step small.
        Solve(_error);
        var most = 0.0;
        foreach (var e in _error)
        {
            most = Math.Max(most, Math.Abs(e));
        }

        return most;
    }

    private double Change()
    {
        var most = 0.0;
        for (var i = 0; i < _now.Length; i++)
        {
            most = Math.Max(most, Math.Abs(_next[i] - _now[i]));
        }

        return most;
    }

    /// <summary>Triangular factors of the matrix of a stage; symmetric and diagonally dominant, so no pivoting is needed.</summary>
    private void Factor(double by)
    {
        if (by == _factored)
        {
            return;
        }

        _factored = by;
        var (capacity, between) = (_grid.Capacity, _grid.Between);
        for (var i = 0; i < capacity.Length; i++)
        {
            var diagonal = capacity[i] + (by * (between[i] + between[i + 1]));
            _pivot[i] = 1 / (i == 0 ? diagonal : diagonal - (by * between[i] * _upper[i - 1]));
            _upper[i] = by * between[i + 1] * _pivot[i];
        }
    }

    private void Solve(double[] right)
    {
        var by = _factored;
        var between = _grid.Between;
        right[0] *= _pivot[0];
        for (var i = 1; i < right.Length; i++)
        {
            right[i] = (right[i] + (by * between[i] * right[i - 1])) * _pivot[i];
        }

        for (var i = right.Length - 2; i >= 0; i--)
        {
            right[i] += _upper[i] * right[i + 1];
        }
    }
}

using System.Collections.Immutable;
using Pairbench.Footwear.Duty;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Cost;

/// <summary>A number of a sheet from its inputs.</summary>
internal delegate double Reckoning(ReadOnlySpan<double> inputs);

/// <summary>Turns the formulas into measured figures: values in decimals, uncertainty by propagation and by draws.</summary>
internal sealed class CostFigures(string currency, string entry, int seed, CostInputs inputs)
{
    /// <summary>Contributions below this share of the largest are what numeric sensitivities leave of causes that cancel.</summary>
    private const double Nothing = 1e-9;

    private const int MostDraws = 60_000;

    /// <summary>Fewer draws in a bracket say nothing of the pairs in it.</summary>
    private const int LeastInBracket = 200;

    private readonly Measured[] _inputs = [.. inputs.Values];

    /// <summary>Every figure of a sheet is drawn from the same inputs.</summary>
    private readonly JointDraws _joint = new(new MonteCarlo(seed) { Digits = 1, AtMost = MostDraws }, [.. inputs.Values]);

    private readonly Dictionary<CostModel, Dictionary<string, Measured>> _drawn = new(ReferenceEqualityComparer.Instance);

    /// <summary>The inputs as decimals.</summary>
    public decimal[] Decimals { get; } = inputs.AsDecimals();

    public int CurrencyDecimals { get; } = Money.DecimalsOf(currency);

    public string Currency => currency;

    /// <summary>An amount of money, with its value from the decimals.</summary>
    public Measured Amount(decimal value, Reckoning reckoning) => Number((double)value, currency, reckoning);

    /// <summary>A number in another unit.</summary>
    public Measured Number(string unit, Reckoning reckoning) => Number(reckoning([.. _inputs.Select(i => i.Value)]), unit, reckoning);

    /// <summary>What one pair costs in decimals, not rounded.</summary>
    public Steps<decimal> Steps(CostModel model) => model.Evaluate<decimal>(Decimals);

    /// <summary>
    /// Draws of a number, and the figure that they and the propagation agree on: its draws are kept only where a straight line misleads in the first digit, or where it
    /// hangs on draws itself, as on the duty of a line that is open: a straight line over branches would reach past what they can cost.
    /// </summary>
    public (Measured Figure, Simulated Draws) Simulate(string name, decimal value, Reckoning reckoning)
    {
        var draws = Draws(name, reckoning);
        var figure = (draws.LinearHolds(digits: 1) && !HangsOnDraws(reckoning)) || IsNothing(draws, value) ? Amount(value, reckoning) : draws.At((double)value);
        return (figure, draws);
    }

    /// <summary>A step of a sheet. Where it hangs on draws, as all that follows from the duty of a line that is open, it has draws too.</summary>
    /// <param name="value">From the decimals.</param>
    public Measured OfStep(CostModel model, string step, decimal value, Func<Steps<double>, double> part)
    {
        if (!_drawn.TryGetValue(model, out var known))
        {
            _drawn[model] = known = new(StringComparer.Ordinal);
        }

        if (!known.TryGetValue(step, out var figure))
        {
            known[step] = figure = Drawn(step, value, x => part(model.Evaluate(x)));
        }

        return figure;
    }

    /// <summary>The duty of a pair.</summary>
    public Measured Duty(CostModel model) => OfStep(model, "duty", Steps(model).Duty, s => s.Duty);

    /// <summary>Duty after less before; what both hang on falls out.</summary>
    public Measured DutyDifference(CostModel before, CostModel after) =>
        Drawn("duty-difference", Steps(after).Duty - Steps(before).Duty, x => after.Evaluate(x).Duty - before.Evaluate(x).Duty);

    /// <summary>Landed cost of the pairs whose customs value is in the bracket of each line; none of a line that hardly any draw falls in.</summary>
    public ImmutableDictionary<CutBranch, Measured> Landed(ImmutableArray<CutBranch> branches)
    {
        if (branches.IsEmpty)
        {
            return ImmutableDictionary<CutBranch, Measured>.Empty;
        }

        var inside = branches.ToDictionary(b => b, _ => new List<double>());
        for (var draw = 0; draw < MostDraws; draw++)
        {
            var inputs = _joint.Set(draw);
            var value = branches[0].Customs(inputs);
            foreach (var branch in branches.Where(b => BranchDuty.Holds(b.Line, value)))
            {
                inside[branch].Add(branch.AtRates.Evaluate<double>(inputs).Landed);
            }
        }

        return inside.Where(b => b.Value.Count >= LeastInBracket).ToImmutableDictionary(
            b => b.Key,
            b => BranchDuty.Drawn((double)Money.Round((decimal)b.Value.Average(), CurrencyDecimals), currency, Amount(0, x => b.Key.AtRates.Evaluate(x).Landed), [.. b.Value]));
    }

    private Measured Drawn(string name, decimal value, Reckoning reckoning) =>
        HangsOnDraws(reckoning) && Draws(name, reckoning) is var draws && !IsNothing(draws, value) ? draws.At((double)value) : Amount(value, reckoning);

    private bool HangsOnDraws(Reckoning reckoning)
    {
        double[] values = [.. _inputs.Select(i => i.Value)];
        var middle = reckoning(values);
        return _inputs.Select((input, i) => (input, i)).Any(p =>
        {
            if (p.input.Samples.IsEmpty)
            {
                return false;
            }

            double[] moved = [.. values];
            moved[p.i] = p.input.Samples[0] < p.input.Value ? p.input.Samples[0] : p.input.Samples[^1];
            return reckoning(moved) != middle;
        });
    }

    private Simulated Draws(string name, Reckoning reckoning) =>
        _joint.Of(currency, $"bend:cost/{entry}/{name}", x => reckoning(x));

    private static bool IsNothing(Simulated draws, decimal value) => draws.StandardUncertainty < 1e-12 * Math.Max(1, Math.Abs((double)value));

    private Measured Number(double value, string unit, Reckoning reckoning)
    {
        var budget = Propagation.Of(unit, x => reckoning(x), _inputs).Budget;
        var largest = budget.Select(c => Math.Abs(c.Value)).DefaultIfEmpty(0).Max();
        var floor = Math.Max(Nothing * largest, 1e-13 * Math.Abs(value));
        return Measured.Of(value, unit, budget.Where(c => Math.Abs(c.Value) > floor));
    }
}

using System.Collections.Immutable;

namespace Pairbench.Measuring;

/// <summary>Draws of inputs that several models share, as the steps of one calculation do: each set is drawn once, as soon as one of them asks for it.</summary>
/// <remarks>A model comes to what <see cref="MonteCarlo.Of"/> says of it. For one thread at a time.</remarks>
public sealed class JointDraws
{
    private readonly MonteCarlo _settings;
    private readonly ImmutableArray<Measured> _inputs;
    private readonly Lazy<DrawSource> _source;

    /// <summary>By block, the sets one after the other.</summary>
    private readonly List<double[]> _blocks = [];

    /// <exception cref="ArgumentException">A setting is out of its range.</exception>
    public JointDraws(MonteCarlo settings, ImmutableArray<Measured> inputs)
    {
        ArgumentNullException.ThrowIfNull(settings);
        settings.CheckSettings();
        (_settings, _inputs, _source) = (settings, inputs, new(() => new DrawSource(settings, inputs.AsSpan())));
    }

    /// <inheritdoc cref="MonteCarlo.Of"/>
    public Simulated Of(string unit, string cause, Model model)
    {
        ArgumentNullException.ThrowIfNull(model);
        return _settings.Gather(
            block =>
            {
                var results = new double[MonteCarlo.Block];
                for (var i = 0; i < results.Length; i++)
                {
                    results[i] = Propagation.Evaluate(model, Set((block * MonteCarlo.Block) + i));
                }

                return results;
            },
            Propagation.Of(unit, model, _inputs.AsSpan()),
            cause);
    }

    /// <summary>One set of inputs.</summary>
    /// <param name="draw">From 0.</param>
    public ReadOnlySpan<double> Set(int draw)
    {
        var (block, at) = Math.DivRem(draw, MonteCarlo.Block);
        while (_blocks.Count <= block)
        {
            var sets = new double[MonteCarlo.Block * _inputs.Length];
            for (var i = 0; i < MonteCarlo.Block; i++)
            {
                _source.Value.Next().CopyTo(sets, i * _inputs.Length);
            }

            _blocks.Add(sets);
        }

        return _blocks[block].AsSpan(at * _inputs.Length, _inputs.Length);
    }
}

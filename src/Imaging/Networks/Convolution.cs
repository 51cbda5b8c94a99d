using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Pairbench.Imaging.Networks;

/// <summary>Convolution with an odd number of taps along a side, zeros beyond the border.</summary>
internal sealed class Convolution
{
    /// <summary>Outputs that are worked out together: what is read of the inputs serves them all.</summary>
    private const int Group = 4;

    private readonly int _outputs;
    private readonly int _inputs;
    private readonly int _taps;
    private readonly float[] _weights;
    private readonly float[] _offsets;

    /// <param name="weights">By output, input, row and column of the taps.</param>
    public Convolution(int outputs, int inputs, int taps, ReadOnlySpan<float> weights, ReadOnlySpan<float> offsets)
    {
        (_outputs, _inputs, _taps) = (outputs, inputs, taps);
        var groups = (outputs + Group - 1) / Group;
        var each = inputs * taps * taps;
        // By group, then tap, then output of the group; outputs that fill up the last group weigh nothing.
        _weights = new float[groups * each * Group];
        _offsets = new float[groups * Group];
        offsets.CopyTo(_offsets);
        for (var o = 0; o < outputs; o++)
        {
            for (var k = 0; k < each; k++)
            {
                _weights[(((o / Group * each) + k) * Group) + (o % Group)] = weights[(o * each) + k];
            }
        }
    }

    public PlaneStack Run(PlaneStack source, bool positive)
    {
        if (source.Channels != _inputs)
        {
            throw new InvalidOperationException($"A layer for {_inputs} planes got {source.Channels}.");
        }

        var result = new PlaneStack(_outputs, source.Width, source.Height);
        Parallel.For(0, source.Height, y =>
        {
            for (var first = 0; first < _outputs; first += Group)
            {
                Row(source, result, y, first, positive);
            }
        });
        return result;
    }

    private void Row(PlaneStack source, PlaneStack result, int y, int first, bool positive)
    {
        var reach = _taps / 2;
        ref var values = ref MemoryMarshal.GetArrayDataReference(source.Values);
        for (var x = 0; x < source.Width; x += 16)
        {
            ref var weight = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(_weights), first * _inputs * _taps * _taps);
            var a0 = Vector256.Create(_offsets[first]);
            var a1 = Vector256.Create(_offsets[first + 1]);
            var a2 = Vector256.Create(_offsets[first + 2]);
            var a3 = Vector256.Create(_offsets[first + 3]);
            var (b0, b1, b2, b3) = (a0, a1, a2, a3);
            for (var c = 0; c < _inputs; c++)
            {
                for (var j = -reach; j <= reach; j++)
                {
                    ref var at = ref Unsafe.Add(ref values, source.At(c, x, y + j) - reach);
                    for (var i = 0; i < _taps; i++)
                    {
                        var v = Vector256.LoadUnsafe(ref at, (nuint)i);
                        var w = Vector256.LoadUnsafe(ref at, (nuint)(i + 8));
                        var k = Vector256.Create(weight);
                        a0 = Vector256.FusedMultiplyAdd(v, k, a0);
                        b0 = Vector256.FusedMultiplyAdd(w, k, b0);
                        k = Vector256.Create(Unsafe.Add(ref weight, 1));
                        a1 = Vector256.FusedMultiplyAdd(v, k, a1);
                        b1 = Vector256.FusedMultiplyAdd(w, k, b1);
                        k = Vector256.Create(Unsafe.Add(ref weight, 2));
                        a2 = Vector256.FusedMultiplyAdd(v, k, a2);
                        b2 = Vector256.FusedMultiplyAdd(w, k, b2);
                        k = Vector256.Create(Unsafe.Add(ref weight, 3));
                        a3 = Vector256.FusedMultiplyAdd(v, k, a3);
                        b3 = Vector256.FusedMultiplyAdd(w, k, b3);
                        weight = ref Unsafe.Add(ref weight, Group);
                    }
                }
            }

            Store(result, first, x, y, a0, b0, positive);
            Store(result, first + 1, x, y, a1, b1, positive);
            Store(result, first + 2, x, y, a2, b2, positive);
            Store(result, first + 3, x, y, a3, b3, positive);
        }
    }

    private void Store(PlaneStack result, int channel, int x, int y, Vector256<float> left, Vector256<float> right, bool positive)
    {
        if (channel < _outputs)
        {
            result.Store(channel, x, y, left, positive);
            result.Store(channel, x + 8, y, right, positive);
        }
    }
}

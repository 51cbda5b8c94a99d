using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Pairbench.Imaging.Networks;

/// <summary>Taps along one direction: the first, counted from the pixel itself, and how many.</summary>
internal readonly record struct TapSpan(int First, int Count);

/// <summary>Convolution with zeros beyond the border. No tap lies farther than one pixel away.</summary>
internal sealed class Convolution
{
    /// <summary>Outputs that are worked out together: what is read of the inputs serves them all. As many as the registers of the processor hold sums of.</summary>
    private static readonly int Group = Vector512.IsHardwareAccelerated ? OfWideRegisters : OfRegisters;

    private const int OfWideRegisters = 8;

    private const int OfRegisters = 4;

    private readonly int _outputs;
    private readonly int _inputs;
    private readonly TapSpan _rows;
    private readonly TapSpan _columns;
    private readonly float[] _weights;
    private readonly float[] _offsets;

    /// <param name="weights">By output, input, row and column of the taps.</param>
    public Convolution(int outputs, int inputs, TapSpan rows, TapSpan columns, ReadOnlySpan<float> weights, ReadOnlySpan<float> offsets)
    {
        (_outputs, _inputs, _rows, _columns) = (outputs, inputs, rows, columns);
        var groups = (outputs + Group - 1) / Group;
        var each = inputs * rows.Count * columns.Count;
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

    /// <param name="slope">What values below zero are multiplied by, 0 to 1; 1 leaves everything as it is.</param>
    public PlaneStack Run(PlaneStack source, float slope) => Run(source, null, slope);

    /// <summary>The same on top of what other inputs gave, which takes the place of the offsets.</summary>
    public PlaneStack RunOnto(PlaneStack ground, PlaneStack source, float slope) => Run(source, ground, slope);

    private PlaneStack Run(PlaneStack source, PlaneStack? ground, float slope)
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
                if (Vector512.IsHardwareAccelerated)
                {
                    WideRow(source, ground, result, y, first, slope);
                }
                else
                {
                    Row(source, ground, result, y, first, slope);
                }
            }
        });
        return result;
    }

    private void Row(PlaneStack source, PlaneStack? ground, PlaneStack result, int y, int first, float slope)
    {
        ref var values = ref MemoryMarshal.GetArrayDataReference(source.Values);
        for (var x = 0; x < source.Width; x += 16)
        {
            ref var weight = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(_weights), first * _inputs * _rows.Count * _columns.Count);
            var (a0, b0) = Begin(ground, first, x, y);
            var (a1, b1) = Begin(ground, first + 1, x, y);
            var (a2, b2) = Begin(ground, first + 2, x, y);
            var (a3, b3) = Begin(ground, first + 3, x, y);
            for (var c = 0; c < _inputs; c++)
            {
                for (var j = 0; j < _rows.Count; j++)
                {
                    ref var at = ref Unsafe.Add(ref values, source.At(c, x, y + _rows.First + j) + _columns.First);
                    for (var i = 0; i < _columns.Count; i++)
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
                        weight = ref Unsafe.Add(ref weight, OfRegisters);
                    }
                }
            }

            Store(result, first, x, y, a0, b0, slope);
            Store(result, first + 1, x, y, a1, b1, slope);
            Store(result, first + 2, x, y, a2, b2, slope);
            Store(result, first + 3, x, y, a3, b3, slope);
        }
    }

    /// <summary>The same with registers of twice the width, and twice as many of them.</summary>
    private void WideRow(PlaneStack source, PlaneStack? ground, PlaneStack result, int y, int first, float slope)
    {
        ref var values = ref MemoryMarshal.GetArrayDataReference(source.Values);
        for (var x = 0; x < source.Width; x += 16)
        {
            ref var weight = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(_weights), first * _inputs * _rows.Count * _columns.Count);
            var s0 = WideBegin(ground, first, x, y);
            var s1 = WideBegin(ground, first + 1, x, y);
            var s2 = WideBegin(ground, first + 2, x, y);
            var s3 = WideBegin(ground, first + 3, x, y);
            var s4 = WideBegin(ground, first + 4, x, y);
            var s5 = WideBegin(ground, first + 5, x, y);
            var s6 = WideBegin(ground, first + 6, x, y);
            var s7 = WideBegin(ground, first + 7, x, y);
            for (var c = 0; c < _inputs; c++)
            {
                for (var j = 0; j < _rows.Count; j++)
                {
                    ref var at = ref Unsafe.Add(ref values, source.At(c, x, y + _rows.First + j) + _columns.First);
                    for (var i = 0; i < _columns.Count; i++)
                    {
                        var v = Vector512.LoadUnsafe(ref at, (nuint)i);
                        s0 = Vector512.FusedMultiplyAdd(v, Vector512.Create(weight), s0);
                        s1 = Vector512.FusedMultiplyAdd(v, Vector512.Create(Unsafe.Add(ref weight, 1)), s1);
                        s2 = Vector512.FusedMultiplyAdd(v, Vector512.Create(Unsafe.Add(ref weight, 2)), s2);
                        s3 = Vector512.FusedMultiplyAdd(v, Vector512.Create(Unsafe.Add(ref weight, 3)), s3);
                        s4 = Vector512.FusedMultiplyAdd(v, Vector512.Create(Unsafe.Add(ref weight, 4)), s4);
                        s5 = Vector512.FusedMultiplyAdd(v, Vector512.Create(Unsafe.Add(ref weight, 5)), s5);
                        s6 = Vector512.FusedMultiplyAdd(v, Vector512.Create(Unsafe.Add(ref weight, 6)), s6);
                        s7 = Vector512.FusedMultiplyAdd(v, Vector512.Create(Unsafe.Add(ref weight, 7)), s7);
                        weight = ref Unsafe.Add(ref weight, OfWideRegisters);
                    }
                }
            }

            Store(result, first, x, y, s0.GetLower(), s0.GetUpper(), slope);
            Store(result, first + 1, x, y, s1.GetLower(), s1.GetUpper(), slope);
            Store(result, first + 2, x, y, s2.GetLower(), s2.GetUpper(), slope);
            Store(result, first + 3, x, y, s3.GetLower(), s3.GetUpper(), slope);
            Store(result, first + 4, x, y, s4.GetLower(), s4.GetUpper(), slope);
            Store(result, first + 5, x, y, s5.GetLower(), s5.GetUpper(), slope);
            Store(result, first + 6, x, y, s6.GetLower(), s6.GetUpper(), slope);
            Store(result, first + 7, x, y, s7.GetLower(), s7.GetUpper(), slope);
        }
    }

    private Vector512<float> WideBegin(PlaneStack? ground, int channel, int x, int y) =>
        ground is null || channel >= _outputs ? Vector512.Create(_offsets[channel]) : Vector512.LoadUnsafe(ref ground.Values[ground.At(channel, x, y)]);

    private (Vector256<float> Left, Vector256<float> Right) Begin(PlaneStack? ground, int channel, int x, int y)
    {
        if (ground is null || channel >= _outputs)
        {
            return (Vector256.Create(_offsets[channel]), Vector256.Create(_offsets[channel]));
        }

        var at = ground.At(channel, x, y);
        return (Vector256.LoadUnsafe(ref ground.Values[at]), Vector256.LoadUnsafe(ref ground.Values[at + 8]));
    }

    private void Store(PlaneStack result, int channel, int x, int y, Vector256<float> left, Vector256<float> right, float slope)
    {
        if (channel < _outputs)
        {
            result.Store(channel, x, y, left, slope);
            result.Store(channel, x + 8, y, right, slope);
        }
    }
}

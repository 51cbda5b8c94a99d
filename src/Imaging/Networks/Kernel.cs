namespace Pairbench.Imaging.Networks;

/// <summary>Weights of one layer as they were taught, and parts of them.</summary>
/// <param name="Taps">Along a side, odd.</param>
/// <param name="Weights">By output, input, row and column of the taps.</param>
/// <param name="Offsets">By output.</param>
internal sealed record Kernel(int Outputs, int Inputs, int Taps, float[] Weights, float[] Offsets)
{
    /// <summary>Reads numbers of outputs, inputs and taps as 32-bit integers, then weights and offsets as half-precision numbers, all little-endian.</summary>
    public static Kernel Read(BinaryReader reader)
    {
        int outputs = reader.ReadInt32(), inputs = reader.ReadInt32(), taps = reader.ReadInt32();
        return new Kernel(outputs, inputs, taps, Halves(outputs * inputs * taps * taps), Halves(outputs));

        float[] Halves(int count)
        {
            var values = new float[count];
            for (var i = 0; i < count; i++)
            {
                values[i] = (float)reader.ReadHalf();
            }

            return values;
        }
    }

    /// <summary>The part that looks at some of the inputs.</summary>
    public Kernel Of(int firstInput, int inputs, bool withOffsets)
    {
        var area = Taps * Taps;
        var weights = new float[Outputs * inputs * area];
        for (var o = 0; o < Outputs; o++)
        {
            Array.Copy(Weights, ((o * Inputs) + firstInput) * area, weights, o * inputs * area, inputs * area);
        }

        return new Kernel(Outputs, inputs, Taps, weights, withOffsets ? Offsets : new float[Outputs]);
    }

    public Convolution Whole() => new(Outputs, Inputs, new TapSpan(-(Taps / 2), Taps), new TapSpan(-(Taps / 2), Taps), Weights, Offsets);

    /// <summary>
    /// What three by three taps at twice the size are to a picture at its own size whose pixels were repeated: two by two taps, others for each of the four places
    /// in a pixel; upper left, upper right, lower left, lower right.
    /// </summary>
    public Convolution[] OfRepeated() =>
        [.. Enumerable.Range(0, 4).Select(place =>
        {
            int down = place / 2, right = place % 2;
            var weights = new float[Outputs * Inputs * 4];
            for (var k = 0; k < Outputs * Inputs; k++)
            {
                for (var t = 0; t < Taps * Taps; t++)
                {
                    // Tap -1, 0 or 1 from an even place falls on the pixels -1, 0, 0; from an odd one on 0, 0, 1.
                    int row = ((t / Taps) + 1 - down) / 2, column = ((t % Taps) + 1 - right) / 2;
                    weights[(k * 4) + (row * 2) + column] += Weights[(k * Taps * Taps) + t];
                }
            }

            return new Convolution(Outputs, Inputs, new TapSpan(down - 1, 2), new TapSpan(right - 1, 2), weights, Offsets);
        })];
}

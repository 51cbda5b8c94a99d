using System.Text.Json;
using Pairbench.Imaging.Networks;
using Pairbench.Imaging.Regions;

namespace Pairbench.Reference.Imaging;

/// <summary>A small network of the U shape against PyTorch 1.13.1 (Debian's python3-torch); <c>data/torch_unet.py</c> made weights and values.</summary>
public sealed class NetworkTests
{
    private static readonly string Data = Path.Combine(AppContext.BaseDirectory, "Imaging", "data");

    private static readonly JsonElement Values = JsonDocument.Parse(File.ReadAllText(Path.Combine(Data, "torch-unet.json"))).RootElement;

    [Theory]
    [InlineData(0)]
    [InlineData(3)]
    public void TheSameWeightsGiveTheSameAnswer(int steady)
    {
        using var reader = new BinaryReader(File.OpenRead(Path.Combine(Data, "torch-unet.bin")));
        var network = UNet.Read(reader, Values.GetProperty("levels").GetInt32(), Values.GetProperty("slope").GetSingle(), steady);
        Assert.Equal(reader.BaseStream.Length, reader.BaseStream.Position);

        var inputs = Planes("inputs");
        using var begun = steady == 0 ? null : network.Begin(inputs[..steady]);
        var answer = begun is null ? network.Run(inputs) : network.Run(begun, inputs[steady..]);

        var theirs = Planes("outputs");
        Assert.Equal(theirs.Length, answer.Length);
        Assert.All(theirs.Zip(answer).SelectMany(p => p.First.Values.Zip(p.Second.Values)), v => Assert.Equal(v.First, v.Second, 2e-5));
        Assert.True(theirs[0].Values.Max() - theirs[0].Values.Min() > 0.1);
    }

    private static Plane[] Planes(string name) =>
        [.. Values.GetProperty(name).EnumerateArray().Select(p => new Plane(Values.GetProperty("width").GetInt32(), Values.GetProperty("height").GetInt32(), [.. p.EnumerateArray().Select(v => v.GetSingle())]))];
}

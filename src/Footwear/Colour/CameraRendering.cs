using System.Collections.Immutable;
using System.Globalization;
using System.Text.Json.Serialization;
using Pairbench.Imaging.Colour;

namespace Pairbench.Footwear.Colour;

/// <summary>How a picture was made from what the camera saw.</summary>
public enum PictureRendering
{
    /// <summary>To please, as phones and cameras do unasked: contrast, raised shadows, more vivid colours.</summary>
    [JsonStringEnumMemberName("pleasing")]
    Pleasing,

    /// <summary>Plainly, as scanners and raw files do that were developed without a tone curve and without more colour.</summary>
    [JsonStringEnumMemberName("plain")]
    Plain,
}

/// <summary>A way in which a camera mixes the channels of light.</summary>
/// <param name="Of">The light that one standard uncertainty of it makes of another.</param>
internal sealed record ChannelMixing(string Cause, Func<LinearRgb, LinearRgb> Of);

/// <summary>What is known of a rendering before the picture is looked at; all of it common practice, no source.</summary>
internal static class CameraRendering
{
    /// <summary>How far the slope of the tone curve may be from that of sRGB, standard deviation.</summary>
    public static double Contrast(this PictureRendering rendering) => rendering == PictureRendering.Plain ? 0.04 : 0.2;

    private static double Saturation(PictureRendering rendering) => rendering == PictureRendering.Plain ? 0.03 : 0.12;

    private static double Leak(PictureRendering rendering) => rendering == PictureRendering.Plain ? 0.015 : 0.03;

    /// <summary>More or less vivid colour, and each channel leaking into each other; what is neutral stays so.</summary>
    public static ImmutableArray<ChannelMixing> Mixing(PictureRendering rendering)
    {
        var (vivid, leak) = (1 + Saturation(rendering), Leak(rendering));
        ChannelMixing Leaks(string from, string into, Func<LinearRgb, LinearRgb> of) => new($"leak-{from}-{into}", of);
        return
        [
            new("saturation", l => new LinearRgb(l.Luminance + (vivid * (l.Red - l.Luminance)), l.Luminance + (vivid * (l.Green - l.Luminance)), l.Luminance + (vivid * (l.Blue - l.Luminance)))),
            Leaks("green", "red", l => l with { Red = l.Red + (leak * (l.Green - l.Red)) }),
            Leaks("blue", "red", l => l with { Red = l.Red + (leak * (l.Blue - l.Red)) }),
            Leaks("red", "green", l => l with { Green = l.Green + (leak * (l.Red - l.Green)) }),
            Leaks("blue", "green", l => l with { Green = l.Green + (leak * (l.Blue - l.Green)) }),
            Leaks("red", "blue", l => l with { Blue = l.Blue + (leak * (l.Red - l.Blue)) }),
            Leaks("green", "blue", l => l with { Blue = l.Blue + (leak * (l.Green - l.Blue)) }),
        ];
    }

    /// <param name="graded">Neutrals of stated colour, as many as differ in lightness.</param>
    public static string Words(this PictureRendering rendering, int graded) => string.Create(
        CultureInfo.InvariantCulture,
        $"The picture is taken to be rendered {(rendering == PictureRendering.Plain ? "plainly" : "to please, as a phone does")}: the slope of its tone curve is {(graded > 1 ? $"taken from {graded} neutrals of stated lightness, beside what is usual" : "not known")} ({100 * rendering.Contrast():0} % standard uncertainty beforehand), colours are more or less vivid by {100 * Saturation(rendering):0} % and channels leak by {100 * Leak(rendering):0.#} % (common practice, no source).");
}

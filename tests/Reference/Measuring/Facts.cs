using System.Globalization;
using System.Text.Json;

namespace Pairbench.Reference.Measuring;

/// <summary>Published values and their data, each with the words of where it comes from.</summary>
internal static class Facts
{
    public static JsonElement Uncertainty { get; } = Read("uncertainty.json");

    public static JsonElement Nist { get; } = Read("nist-strd.json");

    public static JsonElement Named(this JsonElement list, string key, string name) => list.EnumerateArray().Single(e => e.GetProperty(key).GetString() == name);

    public static JsonElement At(this JsonElement e, params ReadOnlySpan<string> path)
    {
        foreach (var step in path)
        {
            e = e.GetProperty(step);
        }

        return e;
    }

    /// <summary>A number, or a number as text.</summary>
    public static double Number(this JsonElement e) => e.ValueKind == JsonValueKind.String
        ? double.Parse(e.GetString()!, CultureInfo.InvariantCulture)
        : e.GetDouble();

    public static double[] Numbers(this JsonElement e) => [.. e.EnumerateArray().Select(Number)];

    /// <summary>Digits that agree: minus the decimal logarithm of the relative error, at most 15.</summary>
    public static double Digits(double value, double certified)
    {
        var error = certified == 0 ? Math.Abs(value) : Math.Abs(value - certified) / Math.Abs(certified);
        return error == 0 ? 15 : Math.Min(15, -Math.Log10(error));
    }

    private static JsonElement Read(string file)
    {
        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Measuring", "data", file)));
        return document.RootElement.Clone();
    }
}

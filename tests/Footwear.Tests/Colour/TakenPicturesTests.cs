using System.Text.Json;
using Pairbench.Imaging;
using Pairbench.Imaging.Photographs;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Colour;

/// <summary>
/// Pictures as a phone takes them (<c>Taken/make_pictures.py</c>, which shares nothing with the program): near lamps, shadows, coloured walls, tone curves, vivid colour, local contrast, JPEG, woven and rough stuffs.
/// With an even, plain picture in mind 62 to 65 % of their intervals held the truth.
/// </summary>
public sealed class TakenPicturesTests
{
    private static readonly string Folder = Path.Combine(Repository.Root, "tests/Footwear.Tests/Colour/Taken");

    [Theory]
    [InlineData("card", 0.85)]
    [InlineData("neutrals", 0.55)]
    public void Intervals_hold_the_truth_in_pictures_that_a_phone_made(string set, double mostRms)
    {
        var pairs = JsonDocument.Parse(File.ReadAllText(Path.Combine(Folder, "pictures.json"))).RootElement.EnumerateArray().Where(p => p.GetProperty("set").GetString() == set).SelectMany(Pairs).ToList();

        var held = pairs.Count(p => p.Difference.CoverageInterval().Contains(p.Truth)) / (double)pairs.Count;
        var rms = Math.Sqrt(pairs.Average(p => Math.Pow(p.Difference.Value - p.Truth, 2)));
        Assert.True(held >= 0.91, $"{100 * held:0} % of {pairs.Count} intervals hold the truth");
        Assert.True(rms <= mostRms, $"errors of {rms:0.000} (root mean square)");
    }

    private static IEnumerable<(Measured Difference, double Truth)> Pairs(JsonElement taken)
    {
        var outcome = ReviewRun.ExamineAlone(Examination.Named("colour")!, taken.GetProperty("evidence"), new Surroundings(new Taken(), DataFolder.Catalogue, Subject.Unknown));
        return taken.GetProperty("truth").EnumerateObject().Select(t => (
            outcome.Figures.Single(f => f.Id == $"{t.Name}.delta-e00").Measured,
            t.Value.GetProperty("deltaE00").GetDouble()));
    }

    private sealed class Taken : IPhotoSource
    {
        public IPhotograph Open(string file) => PhotoFile.Open(file, File.ReadAllBytes(Path.Combine(Folder, "pictures", file)));
    }
}

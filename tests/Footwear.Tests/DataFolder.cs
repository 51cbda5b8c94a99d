using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using Pairbench.Footwear.Shapes;
using Pairbench.Imaging;

namespace Pairbench.Footwear.Tests;

/// <summary>The repository's <c>data/</c>, and examinations run on evidence written as JSON, without photographs.</summary>
internal static class DataFolder
{
    private static readonly Lazy<Catalogue> Read = new(Load);

    public static Catalogue Catalogue => Read.Value;

    public static JsonElement Json(string text) => ShapeReader.Parse(Encoding.UTF8.GetBytes(text), "test");

    public static Outcome Run(string examination, string evidence, Subject? subject = null) =>
        ReviewRun.ExamineAlone(Examination.Named(examination)!, Json(evidence), new Surroundings(NoPhotographs.Instance, Catalogue, subject ?? Subject.Unknown));

    public static ImmutableArray<Fault> Faults(string examination, string evidence, Subject? subject = null) =>
        Assert.Throws<FaultsException>(() => Run(examination, evidence, subject)).Faults;

    public static Examined Review(string review) => ReviewRun.Examine(ReviewRun.Read(Json(review)), NoPhotographs.Instance, Catalogue);

    private static Catalogue Load()
    {
        var data = Path.Combine(Repository.Root, "data");
        return new Catalogue(Directory.EnumerateFiles(data, "*.json", SearchOption.AllDirectories).ToImmutableDictionary(
            f => Path.GetRelativePath(data, f).Replace('\\', '/'),
            f => ShapeReader.Parse(File.ReadAllBytes(f), f)));
    }
}

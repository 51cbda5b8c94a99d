using System.Xml.Linq;
using ArchUnitNET.Domain;
using ArchUnitNET.Loader;
using Assembly = System.Reflection.Assembly;

namespace Pairbench.Tests.Architecture;

/// <summary>References run downwards only: Bench, CommandLine -> Reporting, Storage -> Footwear -> Imaging -> Measuring. The command line serves the bench, so it stands above it.</summary>
public sealed class ReferencesTests
{
    private static readonly Dictionary<string, string[]> Below = new(StringComparer.Ordinal)
    {
        ["Measuring"] = [],
        ["Imaging"] = ["Measuring"],
        ["Footwear"] = ["Imaging", "Measuring"],
        ["Storage"] = ["Footwear", "Imaging", "Measuring"],
        ["Reporting"] = ["Footwear", "Imaging", "Measuring"],
        ["Bench"] = ["Reporting", "Storage", "Footwear", "Imaging", "Measuring"],
        ["CommandLine"] = ["Bench", "Reporting", "Storage", "Footwear", "Imaging", "Measuring"],
    };

    private static readonly string[] VagueEndings = ["Manager", "Helper", "Helpers", "Utils", "Util", "Utilities"];

    private static readonly ArchUnitNET.Domain.Architecture House = new ArchLoader()
        .LoadAssemblies([.. Below.Keys.Select(Built)])
        .Build();

    public static TheoryData<string> Projects => [.. Below.Keys];

    [Fact]
    public void Every_project_of_the_house_has_its_place()
    {
        var found = Directory.GetDirectories(Path.Combine(Repository.Root, "src")).Select(Path.GetFileName).Order();
        Assert.Equal(Below.Keys.Order(), found!);
    }

    [Theory]
    [MemberData(nameof(Projects))]
    public void Project_files_reference_downwards_only(string project)
    {
        var file = Path.Combine(Repository.Root, "src", project, project + ".csproj");
        var wrong = XDocument.Load(file).Descendants("ProjectReference")
            .Select(r => Path.GetFileNameWithoutExtension(r.Attribute("Include")!.Value.Replace('\\', '/')))
            .Where(target => !Below[project].Contains(target))
            .Select(target => $"{project}.csproj references {target}, which does not lie below it; it may reference: {Allowed(project)}.");
        Assert.Empty(wrong);
    }

    [Theory]
    [MemberData(nameof(Projects))]
    public void Types_depend_downwards_only(string project)
    {
        var own = Own(project).ToArray();
        Assert.NotEmpty(own);
        var wrong = own.SelectMany(t => t.Dependencies)
            .Select(d => (Origin: d.Origin.FullName, Target: d.Target.FullName, Project: ProjectOf(d.Target.FullName)))
            .Where(d => d.Project is not null && d.Project != project && !Below[project].Contains(d.Project))
            .Select(d => $"{d.Origin} depends on {d.Target} in {d.Project}, which does not lie below {project}; it may depend on: {Allowed(project)}.")
            .Distinct();
        Assert.Empty(wrong);
    }

    [Theory]
    [MemberData(nameof(Projects))]
    public void Built_assemblies_reference_downwards_only(string project)
    {
        var wrong = Built(project).GetReferencedAssemblies()
            .Select(a => ProjectOf(a.Name + "."))
            .Where(target => target is not null && !Below[project].Contains(target))
            .Select(target => $"{project} was built against {target}, which does not lie below it; it may use: {Allowed(project)}.");
        Assert.Empty(wrong);
    }

    [Fact]
    public void Names_say_what_a_type_is()
    {
        var wrong = House.Types
            .Where(t => ProjectOf(t.FullName) is not null && VagueEndings.Any(e => t.Name.EndsWith(e, StringComparison.Ordinal)))
            .Select(t => $"{t.FullName} has a name that says nothing; call it by what it is or does, not {string.Join(", ", VagueEndings)}.");
        Assert.Empty(wrong);
    }

    [Fact]
    public void The_rules_see_what_the_code_does()
    {
        // A rule over nothing passes; that Footwear is seen to use Measuring shows that this one looks at something.
        Assert.Contains(Own("Footwear").SelectMany(t => t.Dependencies), d => ProjectOf(d.Target.FullName) == "Measuring");
    }

    internal static Assembly Built(string project) => Assembly.Load("Pairbench." + project);

    private static IEnumerable<IType> Own(string project) => House.Types.Where(t => ProjectOf(t.FullName) == project);

    private static string Allowed(string project) => Below[project].Length == 0 ? "nothing of the house" : string.Join(", ", Below[project]);

    private static string? ProjectOf(string name) => name.StartsWith("Pairbench.", StringComparison.Ordinal)
        ? Below.Keys.SingleOrDefault(p => name["Pairbench.".Length..].StartsWith(p + ".", StringComparison.Ordinal))
        : null;
}

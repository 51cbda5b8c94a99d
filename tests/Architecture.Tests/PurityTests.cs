using System.Reflection.Metadata;
using System.Reflection.PortableExecutable;

namespace Pairbench.Tests.Architecture;

/// <summary>Examinations are pure: the same evidence gives the same outcome on any machine, any day. Read from the compiled member references, so lambdas and async code are seen too.</summary>
public sealed class PurityTests
{
    private const string NoClock = "take dates from the evidence";

    private static readonly Dictionary<string, string> Banned = new(StringComparer.Ordinal)
    {
        ["System.IO.File"] = "take bytes through IPhotoSource or tables through Catalogue",
        ["System.IO.FileInfo"] = "take bytes through IPhotoSource or tables through Catalogue",
        ["System.IO.FileStream"] = "take bytes through IPhotoSource or tables through Catalogue",
        ["System.IO.Directory"] = "take bytes through IPhotoSource or tables through Catalogue",
        ["System.IO.DirectoryInfo"] = "take bytes through IPhotoSource or tables through Catalogue",
        ["System.Environment"] = "take what is needed from the evidence",
        ["System.DateTime.get_Now"] = NoClock,
        ["System.DateTime.get_UtcNow"] = NoClock,
        ["System.DateTime.get_Today"] = NoClock,
        ["System.DateTimeOffset.get_Now"] = NoClock,
        ["System.DateTimeOffset.get_UtcNow"] = NoClock,
        ["System.TimeProvider"] = NoClock,
        ["System.Diagnostics.Stopwatch"] = "measure time outside an examination",
        ["System.Random.get_Shared"] = "seed a generator from the evidence",
        ["System.Random..ctor()"] = "seed a generator from the evidence",
        ["System.Guid.NewGuid"] = "name things by what they are",
        ["System.Security.Cryptography.RandomNumberGenerator"] = "seed a generator from the evidence",
        ["System.Net.Http.HttpClient"] = "fetch nothing; catalogue data comes from data/",
        ["System.Net.Sockets.Socket"] = "fetch nothing; catalogue data comes from data/",
        ["System.Diagnostics.Process"] = "start nothing from an examination",
    };

    // Every iterator method holds one of these.
    private const string WrittenByTheCompiler = "System.Environment.get_CurrentManagedThreadId";

    [Theory]
    [InlineData("Footwear")]
    [InlineData("Measuring")]
    public void Nothing_impure_is_used(string project)
    {
        var wrong = Used(ReferencesTests.Built(project).Location)
            .Select(use => (Use: use, Ban: Ban(use)))
            .Where(u => u.Ban is not null && !u.Use.StartsWith(WrittenByTheCompiler, StringComparison.Ordinal))
            .Select(u => $"Pairbench.{project} uses {u.Use}: an examination is pure (no clock, disk, network, chance); {u.Ban}.");
        Assert.Empty(wrong);
    }

    /// <summary>They read and write files, and no clock: the day of a report is given, and a picture is read alike on any day.</summary>
    [Theory]
    [InlineData("Imaging")]
    [InlineData("Reporting")]
    public void No_clock_is_read(string project) => Assert.Empty(Clocks(project));

    [Fact]
    public void The_rule_sees_a_breach()
    {
        // A shelf notes when it was written to.
        Assert.NotEmpty(Clocks("Storage"));

        // These tests read the disk themselves.
        Assert.Contains(Used(typeof(PurityTests).Assembly.Location), u => u.StartsWith("System.IO.File.", StringComparison.Ordinal));
        Assert.NotNull(Ban("System.IO.File.ReadAllText(1)"));
        Assert.NotNull(Ban("System.DateTime.get_UtcNow()"));
        Assert.NotNull(Ban("System.Random..ctor()"));
        Assert.Null(Ban("System.Random..ctor(1)"));
        Assert.Null(Ban("System.DateTime.get_Year()"));
        Assert.Null(Ban("System.IO.FileFormatException..ctor()"));
    }

    private static IEnumerable<string> Clocks(string project) => Used(ReferencesTests.Built(project).Location).Where(u => Ban(u) == NoClock);

    private static string? Ban(string use) => Banned
        .Where(b => use == b.Key || use.StartsWith(b.Key + ".", StringComparison.Ordinal) || use.StartsWith(b.Key + "(", StringComparison.Ordinal))
        .Select(b => b.Value)
        .FirstOrDefault();

    /// <summary>Members of other assemblies that an assembly uses, as <c>Namespace.Type.Member(number of parameters)</c>, empty brackets for none.</summary>
    private static List<string> Used(string assembly)
    {
        using var stream = File.OpenRead(assembly);
        using var file = new PEReader(stream);
        var metadata = file.GetMetadataReader();
        var found = new List<string>();
        foreach (var handle in metadata.MemberReferences)
        {
            var member = metadata.GetMemberReference(handle);
            if (member.Parent.Kind != HandleKind.TypeReference)
            {
                continue;
            }

            var type = metadata.GetTypeReference((TypeReferenceHandle)member.Parent);
            var signature = metadata.GetBlobReader(member.Signature);
            var header = signature.ReadSignatureHeader();
            if (header.IsGeneric)
            {
                signature.ReadCompressedInteger();
            }

            var parameters = header.Kind == SignatureKind.Method ? signature.ReadCompressedInteger() : 0;
            found.Add($"{metadata.GetString(type.Namespace)}.{metadata.GetString(type.Name)}.{metadata.GetString(member.Name)}({(parameters == 0 ? "" : parameters)})");
        }

        return found;
    }
}

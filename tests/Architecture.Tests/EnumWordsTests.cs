using System.Text.RegularExpressions;

namespace Pairbench.Tests.Architecture;

/// <summary>A word made of the name of a member holds for names of one word alone: the first of two is a document that its own reader refuses.</summary>
public sealed partial class EnumWordsTests
{
    [Fact]
    public void No_word_is_made_of_the_name_of_a_member()
    {
        var made = Directory.EnumerateFiles(Path.Combine(ReferencesTests.Root(), "src"), "*.*", SearchOption.AllDirectories)
            .Where(f => Path.GetExtension(f) is ".cs" or ".razor" && !f.Split(Path.DirectorySeparatorChar).Contains("obj"))
            .Where(f => Made().IsMatch(File.ReadAllText(f)))
            .Select(f => $"{Path.GetFileName(f)}: take the word from EnumWords.Of");
        Assert.Empty(made);
    }

    [Fact]
    public void A_word_so_made_is_seen()
    {
        Assert.Matches(Made(), "reply.State.ToString().ToLowerInvariant()");
        Assert.Matches(Made(), "side?.ToString()!.ToUpperInvariant()");
        Assert.DoesNotMatch(Made(), "char.ToLowerInvariant(words[0])");
    }

    [GeneratedRegex(@"\.ToString\(\)[!?]?\.To(Lower|Upper)(Invariant)?\(\)")]
    private static partial Regex Made();
}

using System.Text.RegularExpressions;

namespace Pairbench.Tests.Architecture;

/// <summary>What is known in one place and easily written again beside it. Read from the sources, since what is compiled no longer shows it.</summary>
public sealed class OneHomeTests
{
    // A word made of the name of a member holds for names of one word alone: the first of two is a document that its own reader refuses.
    private const string WordOfMember = @"\.ToString\(\)[!?]?\.To(Lower|Upper)(Invariant)?\(\)";

    private const string TypeB = @"/ Math\.Sqrt\((3|12)\)";

    // The words of a cell are for people: who changes them changes what a page reads out of them.
    private const string CellCutUp = @"\.Words\([^()]*\)\.(Split|Replace|Substring|IndexOf)\(|Parse\(\w+\.Words\(";

    // A field knows the customary fellow of a unit by its code; of one that is written as people read it, it knows none and says nothing.
    private const string UnitAsShown = @"<Field [^\n]*\bUnit=""[^"" @]*[°²³·][^"" ]*""";

    [Theory]
    [InlineData("", WordOfMember, "take the word of a member from EnumWords.Of")]
    [InlineData("Footwear", TypeB, "take the standard uncertainty from Measuring/TypeB")]
    [InlineData("Bench", CellCutUp, "give the cell a type of its own, such as Cell.Places")]
    [InlineData("Bench", UnitAsShown, "give the UCUM code of the unit")]
    public void It_is_written_once(string folder, string pattern, string instead)
    {
        var again = Directory.EnumerateFiles(Path.Combine(Repository.Root, "src", folder), "*.*", SearchOption.AllDirectories)
            .Where(f => Path.GetExtension(f) is ".cs" or ".razor" && !f.Split(Path.DirectorySeparatorChar).Contains("obj"))
            .Where(f => Regex.IsMatch(File.ReadAllText(f), pattern))
            .Select(f => $"{Path.GetFileName(f)}: {instead}");
        Assert.Empty(again);
    }

    [Theory]
    [InlineData(WordOfMember, "reply.State.ToString().ToLowerInvariant()")]
    [InlineData(WordOfMember, "side?.ToString()!.ToUpperInvariant()")]
    [InlineData(TypeB, "tolerance / Math.Sqrt(3)")]
    [InlineData(TypeB, "step / Math.Sqrt(12)")]
    [InlineData(CellCutUp, "row.Words(\"pixels\").Split(';', StringSplitOptions.TrimEntries)")]
    [InlineData(CellCutUp, "double.Parse(row.Words(\"pixel\"), CultureInfo.InvariantCulture)")]
    [InlineData(UnitAsShown, """<Field Sheet="Sheet" Path="@(step + "/airC")" Label="air to" Unit="°C" Kind="FieldKind.Number" />""")]
    [InlineData(UnitAsShown, """<Field Path="@(Path + "/hWm2K")" Unit="W/(m²·K)" />""")]
    public void Written_again_it_is_seen(string pattern, string code) => Assert.Matches(pattern, code);

    [Theory]
    [InlineData(WordOfMember, "char.ToLowerInvariant(words[0])")]
    [InlineData(TypeB, "deviation / Math.Sqrt(values.Length)")]
    [InlineData(CellCutUp, "words.Split('\\n')")]
    [InlineData(UnitAsShown, """<Field Path="@(Path + "/price")" Label="Its price" Unit="a m²" />""")]
    [InlineData(UnitAsShown, """<Field Path="@(Path + "/areaDm2")" Label="Area" Unit="dm2" />""")]
    public void Other_things_are_let_be(string pattern, string code) => Assert.DoesNotMatch(pattern, code);
}

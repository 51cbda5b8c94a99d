using Pairbench.Footwear.Duty;
using Pairbench.Footwear.Lot;
using Pairbench.Footwear.Marking;
using Pairbench.Footwear.Shapes;
using Pairbench.Footwear.WalkRound;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Tests.Spine;

public sealed class EnumWordsTests
{
    private sealed record Follow(CarriedAnswer Answer);

    [Fact]
    public void A_member_has_its_stated_word_else_its_name_in_kebab_case()
    {
        Assert.Equal("still-there", EnumWords.Of(CarriedAnswer.StillThere));
        Assert.Equal("lining-and-sock", EnumWords.Of(StatedPart.LiningAndSock));
        Assert.Equal("US", EnumWords.Of(Market.Us));
        Assert.Equal("pass with corrections", EnumWords.Of(VerdictWord.PassWithCorrections));
        Assert.Equal(["minor", "major", "critical"], EnumWords.All<Severity>());
        Assert.Equal(["S-1", "S-2", "S-3", "S-4", "I", "II", "III"], EnumWords.All<InspectionLevel>());
    }

    [Fact]
    public void What_is_written_is_read()
    {
        foreach (var answer in Enum.GetValues<CarriedAnswer>())
        {
            Assert.Equal(answer, ShapeReader.Read<Follow>(DataFolder.Json($$"""{ "answer": "{{EnumWords.Of(answer)}}" }"""), "", out _).Answer);
            Assert.Equal(answer, EnumWords.Read<CarriedAnswer>(EnumWords.Of(answer)));
        }
    }

    [Fact]
    public void What_is_no_word_is_not_read()
    {
        Assert.Null(EnumWords.Read<CarriedAnswer>("StillThere"));
        Assert.Null(EnumWords.Read<CarriedAnswer>("1"));
        Assert.Null(EnumWords.Read<CarriedAnswer>(null));
        Assert.Throws<ArgumentOutOfRangeException>(() => EnumWords.Of((Severity)9));
    }
}

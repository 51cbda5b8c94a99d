using System.Text;
using System.Text.Json.Nodes;
using Pairbench.Footwear.Shapes;

namespace Pairbench.Footwear.Tests.Spine;

public sealed class DocumentTextTests
{
    [Fact]
    public void Letters_of_every_script_are_written_as_themselves_and_read_again()
    {
        var document = new JsonObject { ["format"] = Review.CurrentFormat, ["style"] = new JsonObject { ["name"] = "Đế <giày> L\u00e9man 鞋" }, ["build"] = new JsonObject { ["label"] = "a" } };

        var text = DocumentText.Of(document);

        Assert.Contains("\n    \"name\": \"Đế <giày> Léman 鞋\"\n", text, StringComparison.Ordinal);
        Assert.Equal("Đế <giày> Léman 鞋", ReviewRun.Read(text).Style.Name);
    }

    [Fact]
    public void What_no_file_can_hold_is_told_and_not_changed()
    {
        var faults = Assert.Throws<FaultsException>(() => ReviewRun.Read("{ \"format\": \"pairbench-review/1\", \"style\": { \"name\": \"\ud83d\" }, \"build\": { \"label\": \"a\" } }")).Faults;

        Assert.Equal("review.json: holds half of a character, which UTF-8 cannot write; remove it", Assert.Single(faults).ToString());
    }

    [Theory]
    [InlineData("{ \"a\": 1,\n  \"b\": \"x\\ud800y\" }", "test: holds half of a character (line 2); write both of its \\u escapes, or remove it")]
    [InlineData("{ \"a\\udc00\": 1 }", "test: holds half of a character (line 1); write both of its \\u escapes, or remove it")]
    public void Half_of_a_character_is_told_with_its_line(string json, string fault) =>
        Assert.Equal(fault, Assert.Single(Assert.Throws<FaultsException>(() => ShapeReader.Parse(Encoding.UTF8.GetBytes(json), "test")).Faults).ToString());

    [Fact]
    public void A_pair_of_escapes_is_one_character() => Assert.Equal("😀", ShapeReader.Parse("{ \"a\": \"\\ud83d\\ude00\" }"u8.ToArray(), "test").GetProperty("a").GetString());

    [Fact]
    public void Bytes_of_another_encoding_are_told() =>
        Assert.Equal("test: is not UTF-8; save it as UTF-8", Assert.Single(Assert.Throws<FaultsException>(() => ShapeReader.Parse(Encoding.Latin1.GetBytes("{ \"a\": \"Größe\" }"), "test")).Faults).ToString());

    [Fact]
    public void A_fault_repeats_no_control_character() => Assert.Equal("a [31m b: is wrong; mend it", new Fault("a\u001b[31m\u0007\r\nb", "is wrong", "mend it").ToString());
}

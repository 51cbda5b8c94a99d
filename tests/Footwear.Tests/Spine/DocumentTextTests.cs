using System.Text.Json.Nodes;

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
}

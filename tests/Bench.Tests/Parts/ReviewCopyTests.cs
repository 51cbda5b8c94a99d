using System.Text.Json.Nodes;
using Pairbench.Bench.Shelves;

namespace Pairbench.Bench.Tests.Parts;

public sealed class ReviewCopyTests
{
    [Fact]
    public void What_stays_is_taken_over_and_what_was_seen_is_not()
    {
        var copy = ReviewCopy.Of(JsonNode.Parse("""
            { "format": "pairbench-review/1", "style": { "name": "Quay", "limits": { "readings/main/mass": { "max": 400 } } }, "build": { "label": "bulk 1", "factory": "Works", "date": "2026-01-01", "lot": "7", "carton": "3" },
              "pair": { "size": "42" }, "photos": [ { "file": "a.jpg" } ], "evidence": { "readings": { "items": [] } }, "examiner": { "name": "B. Reader", "date": "2026-01-02" }, "decision": { "taken": "pass" }, "corrections": {} }
            """)!.AsObject());
        Assert.True(JsonNode.DeepEquals(copy, JsonNode.Parse("""
            { "format": "pairbench-review/1", "build": { "label": "next of bulk 1", "factory": "Works" }, "style": { "name": "Quay", "limits": { "readings/main/mass": { "max": 400 } } }, "pair": { "size": "42" }, "examiner": { "name": "B. Reader" } }
            """)));
    }

    [Fact]
    public void Of_an_examiner_who_has_a_day_alone_nothing_is_taken_over() =>
        Assert.Null(ReviewCopy.Of(JsonNode.Parse("""{ "build": { "label": "bulk 1" }, "examiner": { "date": "2026-01-02" } }""")!.AsObject())["examiner"]);
}

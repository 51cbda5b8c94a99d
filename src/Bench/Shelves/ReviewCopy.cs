using System.Text.Json.Nodes;
using Pairbench.Footwear;

namespace Pairbench.Bench.Shelves;

/// <summary>A review as the start of the next: what stays the same from build to build is taken over, what was seen or measured is not.</summary>
public static class ReviewCopy
{
    /// <summary>Fields of the build that the next one has as well.</summary>
    private static readonly string[] OfTheBuild = ["factory", "colourway", "confirmationSample", "limits"];

    private static readonly string[] Kept = ["style", "pair", "limits", "examiner", "instruments", "tags"];

    /// <param name="review">A review file.</param>
    /// <returns>A new review file; its build is labelled as the next of the other.</returns>
    public static JsonObject Of(JsonObject review)
    {
        ArgumentNullException.ThrowIfNull(review);
        var build = new JsonObject { ["label"] = $"next of {review["build"]?["label"]?.GetValue<string>() ?? "the last"}" };
        Take(review["build"] as JsonObject, build, OfTheBuild);
        var copy = new JsonObject { ["format"] = Review.CurrentFormat, ["build"] = build };
        Take(review, copy, Kept);

        // A date of examining belongs to the day on which somebody looked.
        if (copy["examiner"] is JsonObject examiner)
        {
            examiner.Remove("date");
            if (examiner.Count == 0)
            {
                copy.Remove("examiner");
            }
        }

        return copy;
    }

    private static void Take(JsonObject? from, JsonObject to, string[] fields)
    {
        foreach (var field in fields)
        {
            if (from?[field] is { } value)
            {
                to[field] = value.DeepClone();
            }
        }
    }
}

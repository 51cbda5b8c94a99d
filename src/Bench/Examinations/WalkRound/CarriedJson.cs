using System.Text.Json.Nodes;
using Pairbench.Footwear;
using Pairbench.Footwear.Shapes;
using Pairbench.Footwear.WalkRound;

namespace Pairbench.Bench.Examinations.WalkRound;

/// <summary>An open finding as the walk round of the next build asks for it.</summary>
public static class CarriedJson
{
    public static JsonObject Of(OpenFinding open)
    {
        ArgumentNullException.ThrowIfNull(open);
        var (finding, last) = (open.Followed, open.Followed.Last.Finding);
        var json = new JsonObject
        {
            ["finding"] = finding.Last.Address,
            ["words"] = finding.Words,
            ["severity"] = EnumWords.Of(last.Severity),
        };
        void Put(string name, string? value)
        {
            if (!string.IsNullOrEmpty(value))
            {
                json[name] = value;
            }
        }

        Put("check", last.Check);
        Put("component", last.Component);
        Put("side", last.Side);
        Put("zone", open.Zone);
        Put("correction", open.Correction);
        Put("since", finding.Since is { } since ? Dates.Text(since) : null);
        Put("owner", finding.Owner);
        Put("by", finding.By is { } by ? Dates.Text(by) : null);
        return json;
    }
}

using System.Text.Json;

namespace Pairbench.CommandLine.Tests;

/// <summary>What is measured in the demo's rendered pictures holds what they truly show (demo/truth, written by the scripts that made them).</summary>
public sealed class DemoTruthTests(DemoTruthTests.Examined examined) : IClassFixture<DemoTruthTests.Examined>
{
    /// <summary>Build, examination, entry, figure and what is true.</summary>
    public static TheoryData<string, string, string, string, double> True
    {
        get
        {
            var data = new TheoryData<string, string, string, string, double>();
            foreach (var build in new[] { "build-1", "build-2" })
            {
                foreach (var side in new[] { "left", "right" })
                {
                    data.Add(build, "underfoot", side, "share.textile", Truth(build, $"sole-{side}").GetProperty("sharePct").GetProperty("textile").GetDouble());
                }

                foreach (var length in Truth(build, "pair-top").GetProperty("differencesMm").EnumerateObject())
                {
                    data.Add(build, "pair-match", "toe-caps", $"{length.Name}.difference", length.Value.GetDouble());
                }

                var flat = Truth(build, "quarter-flat");
                foreach (var (name, row) in flat.GetProperty("rows").EnumerateObject().Select(r => (r.Name, r.Value)))
                {
                    data.Add(build, "seams", "eyestay", $"{name}.pitch", row.GetProperty("pitchMm").GetDouble());
                    data.Add(build, "seams", "eyestay", $"{name}.wander-rms", row.GetProperty("wanderMm").GetDouble());
                    data.Add(build, "seams", "eyestay", $"{name}.stitches", row.GetProperty("stitchesPx").GetArrayLength());
                    data.Add(build, "seams", "eyestay", $"{name}.skipped", row.GetProperty("skippedPx").GetArrayLength());
                }

                double Lab(string suede, int k) => flat.GetProperty("suedeLab").GetProperty(suede)[k].GetDouble();
                foreach (var (k, name) in new[] { "l", "a", "b" }.Index())
                {
                    data.Add(build, "colour", "suede", $"sample..eyestay.delta-{name}", Lab("build", k) - Lab("sample", k));
                }
            }

            return data;
        }
    }

    [Theory]
    [MemberData(nameof(True))]
    public async Task TheIntervalHoldsTheTruth(string build, string examination, string entry, string figure, double truth)
    {
        var found = (await examined.OfAsync(build)).EnumerateArray()
            .Single(o => o.GetProperty("examination").GetString() == examination && o.GetProperty("entry").GetString() == entry)
            .GetProperty("figures").EnumerateArray().Single(f => f.GetProperty("id").GetString() == figure);

        if (found.GetProperty("interval") is { ValueKind: JsonValueKind.Array } interval)
        {
            Assert.InRange(truth, interval[0].GetDouble(), interval[1].GetDouble());
        }
        else
        {
            Assert.Equal(truth, found.GetProperty("value").GetDouble());
        }
    }

    private static JsonElement Truth(string build, string picture) =>
        JsonDocument.Parse(File.ReadAllBytes(Path.Combine(Repository.Root, "demo", "truth", $"{build}-{picture}.json"))).RootElement;

    /// <summary>Both builds, each examined once.</summary>
    public sealed class Examined
    {
        private readonly Dictionary<string, Task<JsonElement>> _builds = [];

        public Task<JsonElement> OfAsync(string build)
        {
            lock (_builds)
            {
                return _builds.TryGetValue(build, out var examined) ? examined : _builds[build] = Examine(build);
            }
        }

        private static async Task<JsonElement> Examine(string build)
        {
            var run = await Run.Of("examine", Path.Combine(AppContext.BaseDirectory, "demo", build), "--json");
            Assert.Equal(ExitCode.Done, run.Code);
            return JsonDocument.Parse(run.Out).RootElement.GetProperty("outcomes");
        }
    }
}

using System.Text.Json;
using Pairbench.Measuring;

namespace Pairbench.Reference.Measuring;

/// <summary>
/// NIST/ITL Statistical Reference Datasets: certified to 15 digits. Source of certified values: copies of the .dat files; source of data: stated beside each set
/// in data/nist-strd.json.
/// </summary>
public sealed class NistTests
{
    public static TheoryData<string> Univariate => [.. Facts.Nist.At("univariate").EnumerateArray().Where(HasData).Select(Name)];

    public static TheoryData<string> Regressions => [.. Facts.Nist.At("linearRegression").EnumerateArray().Select(Name)];

    [Theory]
    [MemberData(nameof(Univariate))]
    public void Mean_spread_and_autocorrelation(string name)
    {
        var set = Facts.Nist.At("univariate").Named("name", name);
        var readings = Readings(set);
        Assert.Equal(set.At("n").GetInt32(), readings.Length);
        var summary = Summary.Of(readings);
        Assert.True(Facts.Digits(summary.Mean, set.At("certified", "mean").Number()) >= 15, $"mean {summary.Mean:R}");

        // A double holds 1000000.1 to 1e-10, one part in 1e9 of the spread; no arithmetic can win that back.
        var spacing = Math.BitIncrement(summary.Maximum) - summary.Maximum;
        var reachable = Math.Min(14.5, -Math.Log10(Math.Max(1e-16, 0.5 * spacing / summary.StandardDeviation)) - 0.3);
        var deviation = Facts.Digits(summary.StandardDeviation, set.At("certified", "standardDeviation").Number());
        Assert.True(deviation >= reachable, $"standard deviation {summary.StandardDeviation:R}: {deviation} digits of {reachable}");
        var r = Facts.Digits(Summary.Autocorrelation(readings), set.At("certified", "autocorrelationLag1").Number());
        Assert.True(r >= reachable - 0.7, $"autocorrelation: {r} digits of {reachable}");
    }

    /// <summary>SmLs01 to 09: readings as far as they are not in the file made by the rule of the sets, from memory; the certified values come out only if it is right.</summary>
    [Theory]
    [InlineData("SiRstv", 0, 0)]
    [InlineData("SmLs01", 21, 0)]
    [InlineData("SmLs02", 201, 0)]
    [InlineData("SmLs03", 2001, 0)]
    [InlineData("SmLs04", 21, 1e6)]
    [InlineData("SmLs05", 201, 1e6)]
    [InlineData("SmLs06", 2001, 1e6)]
    [InlineData("SmLs07", 21, 1e12)]
    [InlineData("SmLs08", 201, 1e12)]
    [InlineData("SmLs09", 2001, 1e12)]
    public void Analysis_of_variance(string name, int size, double offset)
    {
        var set = Facts.Nist.At("anova").Named("name", name);
        double[] centres = [0.4, 0.3, 0.5, 0.3, 0.5, 0.3, 0.5, 0.3, 0.5];
        decimal shift = (decimal)offset + (offset == 0 ? 1 : 0);
        double[][] groups = HasData(set)
            ? [.. set.At("data").EnumerateArray().Select(g => g.Numbers())]
            : [.. centres.Select(c => Enumerable.Range(0, size).Select(i => (double)(shift + (decimal)c + (i == 0 ? 0m : i % 2 == 1 ? -0.1m : 0.1m))).ToArray())];
        var table = OneWay.Of(groups);
        var certified = set.At("certified");
        Assert.Equal(set.At("n").GetInt32(), groups.Sum(g => g.Length));
        Assert.Equal(certified.At("dfBetween").GetInt32(), table.Between.DegreesOfFreedom);
        Assert.Equal(certified.At("dfWithin").GetInt32(), table.Within.DegreesOfFreedom);

        // The digits that survive in a double near 1e6 and 1e12: the readings themselves are rounded there.
        var digits = offset switch { 0 => 13.0, 1e6 => 9, _ => 2.5 };
        void Agrees(string what, double value) =>
            Assert.True(Facts.Digits(value, certified.At(what).Number()) >= digits, $"{name} {what}: {value:R}, {Facts.Digits(value, certified.At(what).Number()):F1} digits");
        Agrees("ssBetween", table.Between.SumOfSquares);
        Agrees("ssWithin", table.Within.SumOfSquares);
        Agrees("msBetween", table.Between.MeanSquare);
        Agrees("msWithin", table.Within.MeanSquare);
        Agrees("F", table.F);
        Agrees("rSquared", table.RSquared);
        Agrees("residualStandardDeviation", table.WithinDeviation);
    }

    [Theory]
    [MemberData(nameof(Regressions))]
    public void Linear_regression(string name)
    {
        var set = Facts.Nist.At("linearRegression").Named("name", name);
        double[] y = [.. set.At("data").EnumerateArray().Select(p => p.At("y").Number())];
        double[][] x = [.. set.At("data").EnumerateArray().Select(p => p.At("x").Numbers())];
        double[] first = [.. x.Select(p => p[0])];
        var parameters = set.At("parameters").EnumerateArray().ToArray();
        Assert.Equal(set.At("n").GetInt32(), y.Length);
        var fit = name switch
        {
            "NoInt1" or "NoInt2" => Regression.LineThroughOrigin(first, y),
            "Longley" => Regression.Of([.. x.Select(p => (double[])[1, .. p])], y),
            _ => Regression.Polynomial(first, y, parameters.Length - 1),
        };

        // The predictors of Filip have up to ten digits, which a double rounds at the sixteenth; its columns make about two digits of that.
        var wanted = name == "Filip" ? 12.5 : 13.5;
        var floor = Facts.Digits(fit.ResidualDeviation, set.At("residualStandardDeviation").Number());
        Assert.True(floor >= wanted, $"{name} residual deviation {fit.ResidualDeviation:R}: {floor:F1} digits");
        Assert.True(Facts.Digits(fit.RSquared, set.At("rSquared").Number()) >= wanted, $"{name} R2 {fit.RSquared:R}");
        for (var k = 0; k < parameters.Length; k++)
        {
            var estimate = Facts.Digits(fit.Coefficients[k], parameters[k].At("estimate").Number());
            var deviation = Facts.Digits(fit.StandardUncertainty(k), parameters[k].At("standardDeviation").Number());
            Assert.True(estimate >= wanted, $"{name} b{k} {fit.Coefficients[k]:R}: {estimate:F1} digits");
            Assert.True(deviation >= wanted, $"{name} s(b{k}) {fit.StandardUncertainty(k):R}: {deviation:F1} digits");
        }
    }

    private static bool HasData(JsonElement set) =>
        set.TryGetProperty("dataRule", out _) || (set.TryGetProperty("data", out var data) && data.ValueKind == JsonValueKind.Array);

    private static string Name(JsonElement set) => set.At("name").GetString()!;

    private static double[] Readings(JsonElement set)
    {
        if (!set.TryGetProperty("dataRule", out var rule))
        {
            return set.At("data").Numbers();
        }

        var pair = rule.At("thenAlternating").Numbers();
        return [rule.At("first").Number(), .. Enumerable.Range(0, rule.At("pairs").GetInt32()).SelectMany(_ => pair)];
    }
}

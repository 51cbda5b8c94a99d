using System.Collections.Immutable;
using System.Diagnostics;
using System.Globalization;
using Pairbench.Benchmarks.Duty;
using Pairbench.Footwear;
using Pairbench.Footwear.Duty;
using Pairbench.Footwear.Shapes;

// 100,000 random shoes through the U.S. schedule: half with every fact known, half with three facts in ten not known. SQLite answers the first half as well, and the answers are compared.
const int Half = 50_000;
const double NotKnown = 0.3;
const int Whole = 5_000;
var data = args.Length > 0 ? args[0] : "data";
var catalogue = new Catalogue(Directory.EnumerateFiles(Path.Combine(data, "tariff"), "*.json").ToImmutableDictionary(f => "tariff/" + Path.GetFileName(f), f => ShapeReader.Parse(File.ReadAllBytes(f), f)));
var rules = catalogue.Read<FactRules>(FactRules.File);
var search = Classification.SearchOf(catalogue.Read<Schedule>(Schedule.File(Market.Us)), rules);
var shoes = new RandomShoes(rules, 64);

// Only shoes that can be: a shoe whose facts exclude each other has no line.
List<Answers> Draw(double unknown)
{
    var drawn = new List<Answers>(Half);
    while (drawn.Count < Half)
    {
        var shoe = shoes.Next(unknown);
        if (!Classification.Of(shoe, search, rules, UnknownFacts.Branch).Lines.IsEmpty)
        {
            drawn.Add(shoe);
        }
    }

    return drawn;
}

(double Mean, double Slowest, int Lines) Time(List<Answers> drawn)
{
    var (slowest, lines) = (0.0, 0);
    var watch = Stopwatch.StartNew();
    foreach (var shoe in drawn)
    {
        var from = Stopwatch.GetTimestamp();
        lines += Classification.Of(shoe, search, rules, UnknownFacts.Branch).Lines.Length;
        slowest = Math.Max(slowest, Stopwatch.GetElapsedTime(from).TotalMilliseconds);
    }

    return (watch.Elapsed.TotalMilliseconds / drawn.Count, slowest, lines);
}

// The whole answer: lines, facts that would decide, chances.
(double Mean, double Slowest) TimeAnswer(IEnumerable<Answers> drawn)
{
    var (slowest, count) = (0.0, 0);
    var watch = Stopwatch.StartNew();
    foreach (var shoe in drawn)
    {
        var from = Stopwatch.GetTimestamp();
        _ = Classification.Of(shoe, search, rules, UnknownFacts.Branch);
        _ = Classification.Missing(shoe, search, rules, UnknownFacts.Branch);
        _ = LineChances.Of(shoe, search, rules, UnknownFacts.Branch);
        slowest = Math.Max(slowest, Stopwatch.GetElapsedTime(from).TotalMilliseconds);
        count++;
    }

    return (watch.Elapsed.TotalMilliseconds / count, slowest);
}

var known = Draw(0);
var open = Draw(NotKnown);
var first = Time(known);
var second = Time(open);
var whole = TimeAnswer(open.Take(Whole));

using var sql = new SqlSchedule(search);
var derived = known.Select(s => Derivation.Of(s, search, rules, UnknownFacts.Branch).Known).ToList();
var parameters = derived.Select(sql.Parameters).ToList();
var watch = Stopwatch.StartNew();
var answers = parameters.Select(sql.Line).ToList();
var sqlMean = watch.Elapsed.TotalMilliseconds / answers.Count;
var agree = derived.Zip(answers).Count(d => search.Reachable(d.First).Contains(d.Second));

Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"all facts known: {first.Mean:0.0000} ms a shoe, slowest {first.Slowest:0.0} ms, {(double)first.Lines / Half:0.00} lines left"));
Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{NotKnown:0%} of the facts not known: {second.Mean:0.0000} ms a shoe, slowest {second.Slowest:0.0} ms, {(double)second.Lines / Half:0.00} lines left"));
Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"whole answer, {NotKnown:0%} not known: {whole.Mean:0.0000} ms a shoe, slowest {whole.Slowest:0.0} ms, over {Whole} shoes"));
Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"SQLite, one prepared query a shoe, all facts known: {sqlMean:0.0000} ms, {first.Mean / sqlMean:0.00} of its time here; same line for {agree} of {Half}"));

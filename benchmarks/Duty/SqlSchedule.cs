using System.Globalization;
using System.Numerics;
using Microsoft.Data.Sqlite;
using Pairbench.Footwear.Duty;

namespace Pairbench.Benchmarks.Duty;

/// <summary>The same schedule as one SQL query over parameters, first fitting line first: what a general-purpose database makes of it. It takes shoes whose facts are all known.</summary>
internal sealed class SqlSchedule : IDisposable
{
    private readonly SqliteConnection _connection = new("Data Source=:memory:");
    private readonly SqliteCommand _command;
    private readonly LineSearch _search;

    public SqlSchedule(LineSearch search)
    {
        _search = search;
        _connection.Open();
        _command = _connection.CreateCommand();
        _command.CommandText = "SELECT CASE " + string.Join(' ', search.Schedule.Lines.Select((l, i) => string.Create(CultureInfo.InvariantCulture, $"WHEN {Condition(l)} THEN {i}"))) + " END";
        foreach (var fact in search.Facts)
        {
            _command.Parameters.Add(new SqliteParameter("$" + fact, 0));
        }

        _command.Prepare();
    }

    public int Line(IReadOnlyList<object> shoe)
    {
        for (var f = 0; f < shoe.Count; f++)
        {
            _command.Parameters[f].Value = shoe[f];
        }

        return Convert.ToInt32(_command.ExecuteScalar(), CultureInfo.InvariantCulture);
    }

    /// <summary>What a shoe with one cell for each fact is, as parameters.</summary>
    public object[] Parameters(Known known) => [.. _search.Facts.Select((fact, i) => Value(fact, known.Cells[i]))];

    public void Dispose()
    {
        _command.Dispose();
        _connection.Dispose();
    }

    private object Value(string fact, uint cell)
    {
        var at = BitOperations.TrailingZeroCount(cell);
        if (_search.IsNumber(fact))
        {
            double[] edges = [-1, .. _search.Thresholds(fact), 1e6];
            return at % 2 == 1 ? edges[(at / 2) + 1] : (edges[at / 2] + edges[(at / 2) + 1]) / 2;
        }

        return _search.Schedule.Lines.SelectMany(l => l.All.Concat(l.None.SelectMany(n => n))).Where(a => a.Fact == fact && !a.In.IsDefaultOrEmpty).SelectMany(a => a.In).FirstOrDefault(w => _search.Word(fact, w) == cell)
            ?? (object)at;
    }

    private static string Condition(ScheduleLine line) =>
        string.Join(" AND ", line.All.Select(Term).Append("1").Concat(line.None.Select(n => $"NOT ({string.Join(" AND ", n.Select(Term))})")));

    private static string Term(Atom atom) => atom.Is is { } truth ? $"${atom.Fact} = {(truth ? 1 : 0)}"
        : !atom.In.IsDefaultOrEmpty ? $"${atom.Fact} IN ({string.Join(", ", atom.In.Select(w => $"'{w}'"))})"
        : "(" + string.Join(" AND ", new[] { (atom.Over, ">"), (atom.NotOver, "<="), (atom.AtLeast, ">="), (atom.Under, "<") }.Where(t => t.Item1 is not null)
            .Select(t => string.Create(CultureInfo.InvariantCulture, $"${atom.Fact} {t.Item2} {t.Item1}"))) + ")";
}

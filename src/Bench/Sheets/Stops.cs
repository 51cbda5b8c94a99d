using System.Collections.Immutable;
using System.Reflection;
using Microsoft.AspNetCore.Components;

namespace Pairbench.Bench.Sheets;

/// <summary>The stops of the sheet, in the order of the work.</summary>
public enum Stop
{
    Intake,
    WalkRound,
    Measure,
    BuildUp,
    Underfoot,
    Trade,
    Decide,
}

/// <param name="Name">As it stands in addresses.</param>
/// <param name="Quiet">What belongs there, for as long as nothing does.</param>
public sealed record StopWords(Stop Stop, string Name, string Title, string Quiet)
{
    public static ImmutableArray<StopWords> All { get; } =
    [
        new(Stop.Intake, "intake", "Intake", "Style, build, pair, who looks, and with which instruments."),
        new(Stop.WalkRound, "walk-round", "Walk round", "Look at everything in order; photographs, checks and what they found."),
        new(Stop.Measure, "measure", "Measure", "Left against right, seams, colour, hardness, and readings of any other instrument."),
        new(Stop.BuildUp, "build-up", "Build-up", "The layers in their order, and whether each stands the oven."),
        new(Stop.Underfoot, "underfoot", "Underfoot", "Which material touches the ground, and how much of it."),
        new(Stop.Trade, "trade", "Trade", "What it pays at the border, and what it costs landed."),
        new(Stop.Decide, "decide", "Decide", "The verdict, what made it, and your decision."),
    ];
}

/// <summary>Puts the page of an examination on the sheet. The page takes one parameter, <c>Sheet</c>.</summary>
/// <param name="examination">Name of the examination.</param>
/// <param name="stop">The stop that it stands at.</param>
[AttributeUsage(AttributeTargets.Class, Inherited = false)]
public sealed class ExaminationPageAttribute(string examination, Stop stop) : Attribute
{
    public string Examination { get; } = examination;

    public Stop Stop { get; } = stop;

    /// <summary>The name over the page where a stop has several.</summary>
    public string Title { get; init; } = "";

    /// <summary>What belongs there, for as long as nothing does.</summary>
    public string Quiet { get; init; } = "";
}

/// <summary>A page of an examination, found by its attribute.</summary>
public sealed record ExaminationPage(ExaminationPageAttribute About, Type Component)
{
    /// <summary>All pages of this assembly.</summary>
    public static ImmutableArray<ExaminationPage> All { get; } = [..
        typeof(ExaminationPage).Assembly.GetTypes()
            .Where(t => t.IsSubclassOf(typeof(ComponentBase)))
            .Select(t => (t.GetCustomAttribute<ExaminationPageAttribute>(), t))
            .Where(p => p.Item1 is not null)
            .Select(p => new ExaminationPage(p.Item1!, p.t))
            .OrderBy(p => p.About.Stop)
            .ThenBy(p => Footwear.Examination.Named(p.About.Examination)?.Order)
            .ThenBy(p => p.About.Title, StringComparer.Ordinal)];

    public static ImmutableArray<ExaminationPage> At(Stop stop) => [.. All.Where(p => p.About.Stop == stop)];
}

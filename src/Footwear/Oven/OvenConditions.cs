using System.Collections.Immutable;
using System.ComponentModel.DataAnnotations;
using Pairbench.Footwear.Hardness;
using Pairbench.Footwear.Materials;
using Pairbench.Measuring;

namespace Pairbench.Footwear.Oven;

internal sealed record FilmOfData(OvenProcess Process, CardValue HWm2K);

internal sealed record CureOfData(double ReferenceC, CardValue ActivationEnergyKJmol);

/// <summary>A cycle as somebody reports it; nothing is judged by it.</summary>
internal sealed record ReportedCycle(
    string Process,
    ImmutableArray<double> TemperatureC,
    string Source,
    ValueStatus Status,
    ImmutableArray<double> PressureMPa = default,
    ImmutableArray<double> Minutes = default,
    string SeenIn = "",
    string Note = "")
{
    public ImmutableArray<double> PressureMPa { get => field.OrEmpty(); init; } = PressureMPa;
    public ImmutableArray<double> Minutes { get => field.OrEmpty(); init; } = Minutes;
}

internal sealed record OvenFailure(string Failure, string Cause, ValueStatus Status, string SeenIn = "");

internal sealed record OvenFile(string Edition, string Source, [MinLength(1)] ImmutableArray<FilmOfData> Films, CureOfData Cure, ImmutableArray<ReportedCycle> Cycles, ImmutableArray<OvenFailure> Failures)
{
    public const string File = "materials/oven.json";
}

/// <summary>How cure is counted: one constant with its uncertainty, and what makes a law of it.</summary>
/// <param name="Constant">Activation energy in kJ/mol, or the factor per 10 K.</param>
internal sealed record CureCount(double ReferenceC, Measured Constant, bool IsPerTenKelvin)
{
    public CureLaw Law(double constant) => IsPerTenKelvin
        ? new CureLaw.PerTenKelvin(Math.Max(1.0001, constant), ReferenceC)
        : new CureLaw.Arrhenius(Math.Max(0.01, constant), ReferenceC);

    public string Words => IsPerTenKelvin
        ? $"a factor of {Display.Of(Constant)} per 10 K"
        : $"an activation energy of {Display.Of(Constant)}, which is a factor of {FormattableString.Invariant($"{CureLaw.FactorPerTenKelvin(Constant.Value, ReferenceC - 5):0.00}")} per 10 K about the reference temperature";
}

/// <summary>Everything but the layers: what the stack meets in the oven.</summary>
/// <param name="Film">Outer film, W/(m2.K).</param>
internal sealed record OvenConditions(ImmutableArray<ProgramStep> Program, Measured StartC, Measured Film, InnerSide Inner, CureCount Cure)
{
    /// <summary>A temperature that is known no better says nothing of a peak, and its swings would leave what linear propagation can follow. K.</summary>
    private const double MostUncertainK = 50;

    public double Minutes => Program.Sum(p => p.Minutes);

    /// <summary>Reads the conditions of the evidence; what is left out is taken from the data and said.</summary>
    public static OvenConditions Of(OvenEvidence evidence, OvenFile data, string entry, ICollection<Fault> faults, ICollection<string> assumptions)
    {
        if (evidence.Program.Sum(p => p.Minutes) <= 0)
        {
            faults.Add(new Fault("program", "lasts no time at all", "give a step or hold of some minutes"));
        }
        else if (evidence.Program.Sum(p => p.Minutes) > 10_000)
        {
            faults.Add(new Fault("program", FormattableString.Invariant($"lasts {evidence.Program.Sum(p => p.Minutes):0} min"), "give at most 10000 min"));
        }

        IEnumerable<(string Where, Measured? Measured)> temperatures =
        [
            .. evidence.Program.Select((s, i) => (FormattableString.Invariant($"program[{i}].airC"), (Measured?)s.AirC)),
            ("startC", evidence.StartC),
            ("inner.airC", (evidence.Inner as InnerSide.Film)?.AirC),
        ];
        foreach (var (where, measured) in temperatures.Where(t => t.Measured?.StandardUncertainty > MostUncertainK))
        {
            faults.Add(new Fault(where, FormattableString.Invariant($"has a standard uncertainty of {measured!.StandardUncertainty:0.###} K"), FormattableString.Invariant($"give at most {MostUncertainK:0} K")));
        }

        var start = evidence.StartC;
        if (start is null)
        {
            start = Measured.Of(23, "Cel", $"start-temperature:{entry}", 1);
            assumptions.Add("The shoe goes in at 23 °C, give or take 1 K: startC is not stated.");
        }

        var process = evidence.Process ?? (evidence.GaugeMPa is { Value: > 0 } ? OvenProcess.Autoclave : OvenProcess.FanOven);
        var film = evidence.AirFilm;
        if (film is null)
        {
            var known = data.Films.Single(f => f.Process == process).HWm2K;
            film = known.As("W/(m2.K)", $"air-film:{entry}").Measured;
            assumptions.Add($"The air film is not stated: {Display.Of(film)} for {Words(process)}, convection and radiation together ({known.Source}). It is the least known of all; find it with a thermocouple under the foxing.");
        }

        return new(evidence.Program, start, film, evidence.Inner, CountOf(evidence.Cure, data, entry, faults, assumptions));
    }

    public static string Words(OvenProcess process) => process switch
    {
        OvenProcess.StillOven => "an oven with still air",
        OvenProcess.Autoclave => "a stirred autoclave",
        OvenProcess.Steam => "condensing steam",
        _ => "an oven with a fan",
    };

    private static CureCount CountOf(CureOf? given, OvenFile data, string entry, ICollection<Fault> faults, ICollection<string> assumptions)
    {
        if (given is { ActivationEnergyKJmol: not null, CoefficientPer10K: not null })
        {
            faults.Add(new Fault("cure", "states an activation energy and a coefficient per 10 K", "give one of them: they agree near one temperature only"));
        }

        if (given is { OptimumMinutes: { } optimum, LongestMinutes: { } longest } && longest.Value <= optimum.Value)
        {
            faults.Add(new Fault("cure.longestMinutes", FormattableString.Invariant($"is {longest.Value:0.###} min, not above the optimum"), "give the time from which the compound counts as over-cured"));
        }

        var reference = given?.ReferenceC ?? data.Cure.ReferenceC;
        if (given?.ReferenceC is null)
        {
            assumptions.Add(FormattableString.Invariant($"Cure is counted in minutes at {reference:0.#} °C: cure.referenceC is not stated."));
        }

        if (given?.CoefficientPer10K is { } coefficient)
        {
            return new(reference, coefficient, true);
        }

        if (given?.ActivationEnergyKJmol is { } energy)
        {
            return new(reference, energy, false);
        }

        var usual = data.Cure.ActivationEnergyKJmol.As("kJ/mol", $"activation-energy:{entry}").Measured;
        assumptions.Add($"The activation energy of the cure is not stated: {Display.Of(usual)} ({data.Cure.ActivationEnergyKJmol.Source}).");
        return new(reference, usual, false);
    }
}

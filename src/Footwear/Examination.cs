using System.Collections.Immutable;
using Pairbench.Imaging;

namespace Pairbench.Footwear;

/// <summary>What an examination may look at besides its evidence: all of it immutable, nothing of it from the outside at the time of examining.</summary>
/// <param name="Photos">The photographs that the evidence names.</param>
/// <param name="Catalogue">Tariffs, materials, tables, checks.</param>
/// <param name="Subject">Style, build, pair, instruments and room as far as they are known, for an examination that looks at them.</param>
/// <param name="Entry">Id of the entry that is examined: names of causes that belong to this entry alone carry it, so that two entries never share them by accident.</param>
public sealed record Surroundings(IPhotoSource Photos, Catalogue Catalogue, Subject Subject, string Entry = EntryAddress.Main);

/// <summary>
/// A pure function from evidence to an outcome. Derive from <see cref="Examination{TEvidence}"/>; every concrete subclass
/// in this assembly with a parameterless constructor is on <see cref="All"/>.
/// </summary>
public abstract class Examination
{
    private static readonly Lazy<ImmutableArray<Examination>> Known = new(() => [..
        typeof(Examination).Assembly.GetTypes()
            .Where(t => !t.IsAbstract && t.IsSubclassOf(typeof(Examination)))
            .Select(t => (Examination)Activator.CreateInstance(t, nonPublic: true)!)
            .OrderBy(e => e.Order)
            .ThenBy(e => e.Name, StringComparer.Ordinal)]);

    /// <summary>Every examination, in the order of the work at the bench.</summary>
    public static ImmutableArray<Examination> All => Known.Value;

    /// <summary>The name in review files and commands, such as <c>pair-match</c>.</summary>
    public abstract string Name { get; }

    /// <summary>The name on screens and paper.</summary>
    public abstract string Title { get; }

    /// <summary>Place in the order of the work: intake 0, walk round 100, measure 200, build-up 300, underfoot 400, trade 500, lot 600, compare 700.</summary>
    public abstract int Order { get; }

    /// <summary>The record that the evidence is read into.</summary>
    public abstract Type EvidenceType { get; }

    /// <summary>
    /// What a cause that bears the name of this examination is called in a budget, such as "duty line that is open: main" for <c>duty:branches:duty/main</c>. Null where its name, taken apart, says it.
    /// </summary>
    /// <param name="about">What follows the name of the examination.</param>
    public virtual string? WordsOfCause(string about) => null;

    /// <summary>Whether it looks at style, build, pair, instruments and room. One that does not is told nothing of them, and need not examine an entry anew when they change.</summary>
    public abstract bool LooksAtSubject { get; }

    /// <summary>Id of the table whose rows are the answer, called by their first cells, such as the lines of a tariff: a comparison tells which they were and which they are. Null where no table is.</summary>
    public virtual string? AnswerTable => null;

    /// <exception cref="FaultsException">The evidence cannot be used; places are relative to the entry.</exception>
    internal abstract Outcome Examine(object evidence, Surroundings surroundings, CancellationToken cancellation);

    /// <summary>Faults beyond the shape, of evidence whose fields of wrong shape were taken out; none where they cannot be found without examining.</summary>
    /// <param name="shape">What was wrong with the fields that were taken out.</param>
    internal abstract IEnumerable<Fault> BeyondShape(object evidence, Surroundings surroundings, ImmutableArray<Fault> shape);

    public static Examination? Named(string name) => All.FirstOrDefault(e => e.Name == name);

    /// <summary>The title of an examination by its name; the name itself where this program has none of it.</summary>
    public static string TitleOf(string name) => Named(name)?.Title ?? name;
}

/// <inheritdoc/>
public abstract class Examination<TEvidence> : Examination
    where TEvidence : class
{
    public sealed override Type EvidenceType => typeof(TEvidence);

    /// <summary>Examines one entry.</summary>
    /// <exception cref="FaultsException">The evidence cannot be used; places are relative to the entry, such as <c>dabs[2].path</c>.</exception>
    /// <exception cref="PhotoException">A photograph cannot be read.</exception>
    /// <exception cref="OperationCanceledException">It was called off.</exception>
    public abstract Outcome Examine(TEvidence evidence, Surroundings surroundings, CancellationToken cancellation);

    /// <inheritdoc cref="Examination.BeyondShape(object, Surroundings, ImmutableArray{Fault})"/>
    protected virtual IEnumerable<Fault> BeyondShape(TEvidence evidence, Surroundings surroundings, ImmutableArray<Fault> shape) => [];

    internal sealed override IEnumerable<Fault> BeyondShape(object evidence, Surroundings surroundings, ImmutableArray<Fault> shape) => BeyondShape((TEvidence)evidence, surroundings, shape);

    internal sealed override Outcome Examine(object evidence, Surroundings surroundings, CancellationToken cancellation) => Examine((TEvidence)evidence, surroundings, cancellation);
}

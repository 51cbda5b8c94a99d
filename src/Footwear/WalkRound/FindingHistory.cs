using System.Collections.Immutable;
using Pairbench.Footwear.Change;
using Pairbench.Measuring;

namespace Pairbench.Footwear.WalkRound;

/// <summary>A finding of a review.</summary>
public sealed record FoundFinding(FollowedBuild Build, PastFinding Finding)
{
    /// <summary>As a later review names it that carries it on: id of the review, then the address there.</summary>
    public string Address => Finding.OnReview(Build.Id);
}

/// <summary>What one build says of a finding.</summary>
/// <param name="Severity">Null where the build does not have it.</param>
public sealed record SaidOfFinding(FindingState State, Severity? Severity);

/// <summary>A finding followed through the builds of its style.</summary>
/// <param name="Address">Where it was first found, as <see cref="FoundFinding.Address"/>.</param>
/// <param name="Owner">Who was last to put it right; empty where nobody is named.</param>
/// <param name="Now">The last that was said of it.</param>
/// <param name="Last">As it was last found.</param>
/// <param name="Addresses">Of the finding in every review that has it.</param>
/// <param name="Said">One for each build that is shown, in order of time; null where the build was not asked.</param>
public sealed record FollowedFinding(string Address, string Words, string Component, DateOnly? Since, string Owner, DateOnly? By, FindingState Now, FoundFinding Last, ImmutableHashSet<string> Addresses, ImmutableArray<SaidOfFinding?> Said)
{
    public bool IsOpen => Now != FindingState.Fixed;
}

/// <summary>A finding that is open.</summary>
/// <param name="Zone">Where on the shoe it was last found; empty where that is not known.</param>
/// <param name="Correction">What the factory was last asked to do about it; empty where that is not known.</param>
public sealed record OpenFinding(FollowedFinding Followed, string Zone, string Correction)
{
    internal (string What, string Component, string Side, string Zone) Complaint =>
        (Followed.Last.Finding.Check.Length > 0 ? Followed.Last.Finding.Check : Followed.Words, Followed.Last.Finding.Component, Followed.Last.Finding.Side, Zone);
}

/// <summary>The findings of a style through its builds.</summary>
/// <param name="Builds">In order of time.</param>
public sealed record FindingHistory(ImmutableArray<FollowedBuild> Builds, ImmutableArray<FollowedFinding> Findings)
{
    /// <summary>Follows every finding from the build that first had it; one whose first review is not among them from the first that carried it.</summary>
    /// <param name="builds">In order of time.</param>
    public static FindingHistory Of(ImmutableArray<FollowedBuild> builds)
    {
        var found = builds.SelectMany(b => b.Findings.Select(f => new FoundFinding(b, f))).ToImmutableArray();
        var known = found.Select(f => f.Address).ToHashSet(StringComparer.Ordinal);
        return new FindingHistory(builds, [.. found.Where(f => f.Finding.CarriedFrom.Length == 0 || !known.Contains(f.Finding.CarriedFrom)).Select(f => Follow(f, builds))]);
    }

    /// <summary>The latest builds alone; what earlier ones say of a finding still counts.</summary>
    public FindingHistory Latest(int builds) => Only([.. Builds.Select((_, i) => i).TakeLast(builds)]);

    /// <summary>The builds of one factory alone; what another factory's builds say of a finding still decides whether it is open.</summary>
    public FindingHistory OfFactory(string factory)
    {
        var only = Only([.. Builds.Select((b, i) => (b, i)).Where(b => b.b.Factory == factory).Select(b => b.i)]);
        return only with { Findings = [.. only.Findings.Where(f => f.Said.Any(s => s is not null))] };
    }

    /// <summary>Ids of the reviews that last had what is open.</summary>
    public IEnumerable<string> OpenOn => Findings.Where(f => f.IsOpen).Select(f => f.Last.Build.Id).Distinct(StringComparer.Ordinal);

    /// <summary>Findings that are open, with zone and correction. What a later review found anew, without being asked, is asked for once.</summary>
    /// <param name="outcomes">What the reviews found that last had them, by id; zone and correction of the others are not known.</param>
    public ImmutableArray<OpenFinding> Open(IReadOnlyDictionary<string, PastOutcomes> outcomes)
    {
        ArgumentNullException.ThrowIfNull(outcomes);
        var open = Findings.Where(f => f.IsOpen).Select(f => Open(f, outcomes.GetValueOrDefault(f.Last.Build.Id))).ToImmutableArray();
        int Seen(OpenFinding finding) => Builds.IndexOf(finding.Followed.Last.Build);
        return [.. open.Where(f => !open.Any(g => g.Complaint == f.Complaint && Seen(g) > Seen(f)))];
    }

    private static OpenFinding Open(FollowedFinding followed, PastOutcomes? outcomes)
    {
        var (build, last) = followed.Last;
        var told = outcomes?.Findings.FirstOrDefault(f => f.Address == last.Address);
        return new OpenFinding(followed, told?.Zone ?? "", build.Corrections.Of(last.Address).WhatToDo is { Length: > 0 } asked ? asked : told?.Correction ?? "");
    }

    private FindingHistory Only(ImmutableArray<int> builds) => new([.. builds.Select(i => Builds[i])], [.. Findings.Select(f => f with { Said = [.. builds.Select(i => f.Said[i])] })]);

    private static FollowedFinding Follow(FoundFinding first, ImmutableArray<FollowedBuild> builds)
    {
        var said = ImmutableArray.CreateBuilder<SaidOfFinding?>();

        // Two pairs of one build may both carry it on, so that the next build may name either.
        var addresses = new HashSet<string>(StringComparer.Ordinal) { first.Address };
        var last = first;
        var carriedThere = first.Build.Asked.FirstOrDefault(c => first.Finding.CarriedFrom.Length > 0 && c.Finding == first.Finding.CarriedFrom);
        var (owner, by) = first.Build.Owed(first.Finding.Address);
        foreach (var build in builds)
        {
            if (build.Id == first.Build.Id)
            {
                said.Add(new SaidOfFinding(carriedThere?.Answer.State() ?? FindingState.Found, first.Finding.Severity));
                continue;
            }

            if (build.Asked.FirstOrDefault(c => addresses.Contains(c.Finding)) is not { } carried)
            {
                said.Add(null);
                continue;
            }

            var again = build.Findings.FirstOrDefault(f => f.CarriedFrom == carried.Finding);
            said.Add(new SaidOfFinding(carried.Answer.State(), again?.Severity));
            if (again is not null)
            {
                last = new FoundFinding(build, again);
                addresses.Add(last.Address);
                var later = build.Owed(again.Address);
                (owner, by) = (later.Owner.Length > 0 ? later.Owner : owner, later.By ?? by);
            }
        }

        return new FollowedFinding(
            first.Address,
            carriedThere?.Words ?? first.Finding.Words,
            first.Finding.Component,
            carriedThere is null ? first.Build.Date : carriedThere.Since,
            owner,
            by,
            Now(builds, said),
            last,
            [.. addresses],
            said.ToImmutable());
    }

    /// <summary>What the last build that was asked says: of several pairs of it the one that still has the finding, then one on which it was seen to be fixed.</summary>
    private static FindingState Now(ImmutableArray<FollowedBuild> builds, IReadOnlyList<SaidOfFinding?> said)
    {
        var asked = builds.Zip(said).Where(s => s.Second is not null).Select(s => (Build: s.First, s.Second!.State)).ToImmutableArray();
        var states = asked.Where(s => s.Build.IsOneWith(asked[^1].Build)).Select(s => s.State).ToImmutableArray();
        return states.Any(s => s.IsThere()) ? states.Last(s => s.IsThere())
            : states.Contains(FindingState.Fixed) ? FindingState.Fixed
            : FindingState.NotSeen;
    }
}

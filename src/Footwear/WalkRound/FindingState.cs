namespace Pairbench.Footwear.WalkRound;

/// <summary>What a build says of a finding: that it was found on it, or what it answers where it was asked for one of an earlier build.</summary>
public enum FindingState
{
    Found,
    StillThere,
    Worse,
    Fixed,
    NotSeen,
}

/// <summary>States of a finding, in words and by what they mean.</summary>
public static class FindingStates
{
    /// <summary>As people read it, such as <c>still there</c>.</summary>
    public static string InWords(this FindingState state) => EnumWords.Of(state).Replace('-', ' ');

    /// <summary>The build has it: what was fixed or not seen does not tell so.</summary>
    public static bool IsThere(this FindingState state) => state is FindingState.Found or FindingState.StillThere or FindingState.Worse;

    /// <summary>What an answer says of the build that gives it.</summary>
    public static FindingState State(this CarriedAnswer answer) => answer switch
    {
        CarriedAnswer.NotSeen => FindingState.NotSeen,
        CarriedAnswer.Fixed => FindingState.Fixed,
        CarriedAnswer.StillThere => FindingState.StillThere,
        CarriedAnswer.Worse => FindingState.Worse,
        _ => throw new ArgumentOutOfRangeException(nameof(answer), answer, "is no answer"),
    };
}

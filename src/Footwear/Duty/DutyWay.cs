namespace Pairbench.Footwear.Duty;

/// <summary>What a question on the way through the law does for the lines that remain: the words of the column <c>part</c> of the table <c>way</c>.</summary>
public static class DutyWay
{
    /// <summary>Its answer would decide between them.</summary>
    public const string ForksHere = "forks here";

    public const string InTheLine = "in the words of the line";

    public const string Elsewhere = "rules out other lines";
}

using System.Text.RegularExpressions;

namespace Pairbench.Footwear;

/// <summary>
/// The form of names: an id is <c>[a-z0-9]+(-[a-z0-9]+)*</c>. The id of a figure has levels divided by dots, and two dots join a pair; where it stands in a review
/// is its <see cref="FullAddress"/>.
/// </summary>
public static partial class Id
{
    public const string Pattern = "^[a-z0-9]+(-[a-z0-9]+)*$";

    public static bool IsId(string text) => IdForm().IsMatch(text);

    [GeneratedRegex(@"\A[a-z0-9]+(-[a-z0-9]+)*\z")]
    private static partial Regex IdForm();
}

using System.Text.RegularExpressions;

namespace Pairbench.Footwear;

/// <summary>
/// The forms of names: an id is <c>[a-z0-9]+(-[a-z0-9]+)*</c>; a figure id has levels divided by dots, two dots join a pair;
/// a figure's full address is <c>examination/entry/figure</c>.
/// </summary>
public static partial class Id
{
    public const string Pattern = "^[a-z0-9]+(-[a-z0-9]+)*$";

    public static bool IsId(string text) => IdForm().IsMatch(text);

    public static bool IsAddress(string text) => AddressForm().IsMatch(text);

    [GeneratedRegex(@"\A[a-z0-9]+(-[a-z0-9]+)*\z")]
    private static partial Regex IdForm();

    [GeneratedRegex(@"\A[a-z0-9-]+/[a-z0-9-]+/[a-z0-9-]+(\.{1,2}[a-z0-9-]+)*\z")]
    private static partial Regex AddressForm();
}

using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;

namespace Pairbench.Footwear.Cost;

/// <summary>Where a place of a changed sheet stands in what the user wrote: in the change, if that states it, else in the sheet.</summary>
/// <param name="before">The sheet.</param>
/// <param name="place">Place of the change in the list.</param>
/// <param name="after">The sheet as changed.</param>
internal sealed partial class ChangedPlaces(CostEvidence before, CostChange change, int place, CostEvidence after)
{
    /// <summary>Fields of a sheet that a change may state.</summary>
    private readonly ImmutableHashSet<string> _stated = [.. new (string Field, object? Value)[]
    {
        ("overheadPct", change.OverheadPct), ("factoryMarginPct", change.FactoryMarginPct), ("volume", change.Volume), ("shipmentPairs", change.ShipmentPairs),
        ("freight", change.Freight), ("freightPerShipment", change.FreightPerShipment), ("insurance", change.Insurance), ("insurancePct", change.InsurancePct),
        ("duty", change.Duty), ("dutyRate", change.DutyRate),
    }
    .Where(f => f.Value is not null).Select(f => f.Field)];

    public string Of(string where)
    {
        var own = $"changes[{place}].";
        if (Listed().Match(where) is not { Success: true } item)
        {
            return _stated.Contains(where.Split('.')[0]) ? own + where : where;
        }

        var (list, rest) = (item.Groups["list"].Value, item.Groups["rest"].Value);
        var at = int.Parse(item.Groups["at"].Value, CultureInfo.InvariantCulture);
        if (list == "labour")
        {
            var work = after.Labour[at].Id;
            return Find(change.Labour, l => l.Id, work) is { } stated ? $"{own}labour[{stated}]{rest}"
                : change.LabourRatePerHour is not null && rest == ".ratePerHour" ? own + "labourRatePerHour"
                : InSheet(where);
        }

        var id = after.Lines[at].Id;
        return Find(change.Add, l => l.Id, id) is { } added && at >= after.Lines.Length - change.Add.Length ? $"{own}add[{added}]{rest}"
            : change.Strobel?.Sock.Id == id ? $"{own}strobel.sock{rest}"
            : Find(change.Lines, l => l.Id, id) is { } changed ? $"{own}lines[{changed}]{rest}"
            : InSheet(where);
    }

    /// <summary>The same place in the sheet as it is.</summary>
    public string InSheet(string where)
    {
        if (Listed().Match(where) is not { Success: true } item)
        {
            return where;
        }

        var at = int.Parse(item.Groups["at"].Value, CultureInfo.InvariantCulture);
        var found = item.Groups["list"].Value == "labour" ? Find(before.Labour, l => l.Id, after.Labour[at].Id) : Find(before.Lines, l => l.Id, after.Lines[at].Id);
        return found is { } own ? $"{item.Groups["list"].Value}[{own}]{item.Groups["rest"].Value}" : "";
    }

    private static int? Find<T>(ImmutableArray<T> items, Func<T, string> idOf, string id)
    {
        for (var i = 0; i < items.Length; i++)
        {
            if (idOf(items[i]) == id)
            {
                return i;
            }
        }

        return null;
    }

    [GeneratedRegex(@"^(?<list>lines|labour)\[(?<at>\d+)\](?<rest>.*)$")]
    private static partial Regex Listed();
}

using System.Collections.Immutable;
using Pairbench.Footwear.Materials;
using Pairbench.Measuring;
using static Pairbench.Footwear.Plain;

namespace Pairbench.Footwear.Readings;

/// <summary>An item held against the published requirement that it names.</summary>
internal sealed record NamedRequirement(ReadingItem Item, Requirement Requirement, Room? Room, Atmosphere Air)
{
    /// <summary>Nothing where the item names none; faults where it names one that does not fit.</summary>
    public static (NamedRequirement? Named, ImmutableArray<Fault> Faults) Of(ReadingItem item, Room? room, string where, Catalogue catalogue)
    {
        if (item.Requirement is not { } id)
        {
            return (null, []);
        }

        var file = catalogue.Read<RequirementsFile>(RequirementsFile.File);
        if (file.Requirements.FirstOrDefault(r => r.Id == id) is not { } requirement)
        {
            return (null, [Unknown(item, id, where, file.Requirements)]);
        }

        ImmutableArray<Fault> misfits = [.. Misfits(item, requirement, where)];
        return (misfits.IsEmpty ? new NamedRequirement(item, requirement, room, file.Conditioning) : null, misfits);
    }

    private static Fault Unknown(ReadingItem item, string id, string where, ImmutableArray<Requirement> all)
    {
        ImmutableArray<string> near = [.. all.Where(r => r.Unit == item.Unit).Select(r => r.Id)];
        return new Fault(where + ".requirement", $"'{id}' is no published requirement known here", near.IsEmpty ? $"none is in {item.Unit}; give a limit of your own" : $"in {item.Unit} there are {string.Join(", ", near)}");
    }

    private static IEnumerable<Fault> Misfits(ReadingItem item, Requirement requirement, string where)
    {
        if (item.Unit != requirement.Unit)
        {
            yield return new Fault(where + ".unit", $"'{item.Unit}' is not the unit of {requirement.Id}", $"give the values in {requirement.Unit}");
        }

        if (item.Method is { } method && !requirement.Takes(method))
        {
            yield return new Fault(where + ".method", $"'{method}' is not the method of {requirement.Id}", $"read it by {string.Join(" or ", requirement.Methods)}, or give a limit of your own");
        }
    }

    /// <summary>The limit that rules where the reviewer has none.</summary>
    public Limit Offer => new(Requirement.Min, Requirement.Max, Severity.Major, Requirement.Words);

    public IEnumerable<string> Assumptions()
    {
        if (Item.Method is null)
        {
            yield return $"{Item.Id}: no method is stated; taken to be read by {string.Join(" or ", Requirement.Methods)}.";
        }

        if (Air.Outside(Room).Length == 0)
        {
            yield return $"{Item.Id}: taken to be conditioned at {Air.Words}.";
        }

        if (Requirement.Condition.Length > 0)
        {
            yield return $"{Item.Id}: the requirement holds for: {Requirement.Condition}.";
        }
    }

    public IEnumerable<string> Cautions()
    {
        if (Air.Outside(Room) is { Length: > 0 } outside)
        {
            yield return $"{Item.Id}: read in a room of {outside}, where the requirement holds for pieces conditioned at {Air.Words}: condition them and read again.";
        }

        if (Requirement.DocumentStatus is EditionStatus.Superseded or EditionStatus.Withdrawn)
        {
            yield return $"{Item.Id}: {Requirement.Document} is {(Requirement.DocumentStatus == EditionStatus.Withdrawn ? "withdrawn" : "superseded by a newer edition")}: check what holds now.";
        }

        if (Requirement.Status != Hardness.ValueStatus.Seen)
        {
            yield return $"{Item.Id}: the requirement is {MaterialTable.Words(Requirement.Status)}: open the document before a dispute.";
        }

        if (Requirement.Note.Length > 0)
        {
            yield return $"{Item.Id}: {Requirement.Note}.";
        }
    }

    public static Table Table(IEnumerable<NamedRequirement> named) => new(
        "requirements",
        "Published requirements",
        [new("item", "Item"), new("requirement", "Requirement"), new("asks", "Asks"), new("category", "Footwear"), new("component", "Component"), new("method", "Method"), new("document", "Document"), new("edition", "Edition stands"), new("status", "Read or from memory"), new("source", "Source")],
        [.. named.Select(n => ImmutableArray.Create<Cell>(
            n.Item.Id,
            n.Requirement.Id,
            n.Asks,
            n.Requirement.Category,
            n.Requirement.Component,
            string.Join(" or ", n.Requirement.Methods),
            n.Requirement.Document,
            n.Requirement.DocumentStatus switch { EditionStatus.Current => "yes", EditionStatus.Superseded => "superseded", EditionStatus.Withdrawn => "withdrawn", _ => "not known" },
            MaterialTable.Words(n.Requirement.Status),
            n.Requirement.Source))]);

    private string Asks => string.Join(" and ", new[]
    {
        Requirement.Min is { } min ? $"at least {Number(min)}" : null,
        Requirement.Max is { } max ? $"at most {Number(max)}" : null,
    }.OfType<string>()) + (Requirement.Unit == "1" ? "" : " " + Requirement.Unit);
}

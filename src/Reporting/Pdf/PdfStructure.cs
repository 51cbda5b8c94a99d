using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using PdfSharp.Pdf;
using PdfSharp.Pdf.IO;

namespace Pairbench.Reporting.Pdf;

/// <summary>A line of the outline.</summary>
/// <param name="Page">From zero.</param>
/// <param name="Top">Distance from the top of the page in points.</param>
internal sealed record OutlineLine(string Title, int Page, float Top, int Level);

/// <summary>Adds to a drawn PDF what the drawing library leaves out: outline, language, and the structure that readers of text go by (ISO 32000-1, 12.3.3, 14.7 and 14.8).</summary>
internal static partial class PdfStructure
{
    public static byte[] Add(Stream drawn, StructureTree tree, ImmutableArray<OutlineLine> outline, string language)
    {
        using var pdf = PdfReader.Open(drawn, PdfDocumentOpenMode.Modify);
        var places = MarkContents(pdf, tree);
        AddTree(pdf, tree, places);
        AddOutline(pdf, outline);
        pdf.Internals.Catalog.Elements.SetString("/Lang", language);
        var marked = new PdfDictionary(pdf);
        marked.Elements.SetBoolean("/Marked", true);
        pdf.Internals.Catalog.Elements["/MarkInfo"] = marked;
        var preferences = new PdfDictionary(pdf);
        preferences.Elements.SetBoolean("/DisplayDocTitle", true);
        pdf.Internals.Catalog.Elements["/ViewerPreferences"] = preferences;
        using var output = new MemoryStream();
        pdf.Save(output, closeStream: false);
        return output.ToArray();
    }

    /// <summary>Turns the markers of every page into marked content; gives page and number in the page by number of content.</summary>
    private static Dictionary<int, (int Page, int Id)> MarkContents(PdfDocument pdf, StructureTree tree)
    {
        var places = new Dictionary<int, (int, int)>();
        for (var page = 0; page < pdf.PageCount; page++)
        {
            var contents = pdf.Pages[page].Contents;
            for (var part = 0; part < contents.Elements.Count; part++)
            {
                var stream = contents.Elements.GetDictionary(part)!.Stream!;
                var text = Encoding.Latin1.GetString(stream.UnfilteredValue);
                var next = places.Values.Count(p => p.Item1 == page);
                text = Marker().Replace(text, match =>
                {
                    var (content, end) = Math.DivRem(int.Parse(match.Groups[1].Value, CultureInfo.InvariantCulture) - 1, 2);
                    if (end == 1)
                    {
                        return "EMC\n";
                    }

                    if (tree.IsArtefact(content))
                    {
                        return "/Artifact BMC\n";
                    }

                    places[content] = (page, next);
                    return string.Create(CultureInfo.InvariantCulture, $"/Span <</MCID {next++}>> BDC\n");
                });
                stream.Value = Encoding.Latin1.GetBytes(text);
                stream.Zip();
                contents.Elements.GetDictionary(part)!.Elements.SetName("/Filter", "/FlateDecode");
            }
        }

        return places;
    }

    private static void AddTree(PdfDocument pdf, StructureTree tree, Dictionary<int, (int Page, int Id)> places)
    {
        var root = Indirect(pdf, "/StructTreeRoot");
        var owners = Enumerable.Range(0, pdf.PageCount).Select(_ => new SortedDictionary<int, PdfDictionary>()).ToList();
        var document = Element(pdf, tree.Root, root, places, owners);
        root.Elements["/K"] = document.Reference;
        var numbers = new PdfArray(pdf);
        for (var page = 0; page < pdf.PageCount; page++)
        {
            var list = new PdfArray(pdf);
            pdf.Internals.AddObject(list);
            foreach (var owner in owners[page].Values)
            {
                list.Elements.Add(owner.Reference!);
            }

            numbers.Elements.Add(new PdfInteger(page));
            numbers.Elements.Add(list.Reference!);
            pdf.Pages[page].Elements.SetInteger("/StructParents", page);
            pdf.Pages[page].Elements.SetName("/Tabs", "/S");
        }

        var parents = Indirect(pdf, null);
        parents.Elements["/Nums"] = numbers;
        root.Elements["/ParentTree"] = parents.Reference;
        root.Elements.SetInteger("/ParentTreeNextKey", pdf.PageCount);
        pdf.Internals.Catalog.Elements["/StructTreeRoot"] = root.Reference;
    }

    private static PdfDictionary Element(PdfDocument pdf, StructurePart part, PdfDictionary parent, Dictionary<int, (int Page, int Id)> places, List<SortedDictionary<int, PdfDictionary>> owners)
    {
        var element = Indirect(pdf, "/StructElem");
        element.Elements.SetName("/S", "/" + part.Type);
        element.Elements["/P"] = parent.Reference;
        if (part.Words is { } words)
        {
            element.Elements.SetString("/Alt", words);
        }

        if (part.Type == "TH")
        {
            var scope = new PdfDictionary(pdf);
            scope.Elements.SetName("/O", "/Table");
            scope.Elements.SetName("/Scope", "/Column");
            element.Elements["/A"] = scope;
        }

        var children = new PdfArray(pdf);
        foreach (var (child, content) in part.Children)
        {
            if (child is not null)
            {
                children.Elements.Add(Element(pdf, child, element, places, owners).Reference!);
            }
            else if (places.TryGetValue(content, out var place))
            {
                var reference = new PdfDictionary(pdf);
                reference.Elements.SetName("/Type", "/MCR");
                reference.Elements["/Pg"] = pdf.Pages[place.Page].Reference;
                reference.Elements.SetInteger("/MCID", place.Id);
                children.Elements.Add(reference);
                owners[place.Page][place.Id] = element;
            }
        }

        element.Elements["/K"] = children;
        return element;
    }

    private static void AddOutline(PdfDocument pdf, ImmutableArray<OutlineLine> outline)
    {
        PdfOutline? section = null;
        foreach (var line in outline)
        {
            var page = pdf.Pages[line.Page];
            var added = (line.Level > 0 && section is not null ? section.Outlines : pdf.Outlines).Add(line.Title, page, line.Level == 0);
            added.PageDestinationType = PdfPageDestinationType.Xyz;
            added.Top = page.Height.Point - line.Top;
            section = line.Level == 0 ? added : section;
        }
    }

    private static PdfDictionary Indirect(PdfDocument pdf, string? type)
    {
        var dictionary = new PdfDictionary(pdf);
        if (type is not null)
        {
            dictionary.Elements.SetName("/Type", type);
        }

        pdf.Internals.AddObject(dictionary);
        return dictionary;
    }

    [GeneratedRegex(@"^\.25 \.5 (\d+) \.5 re\nf\n", RegexOptions.Multiline)]
    private static partial Regex Marker();
}

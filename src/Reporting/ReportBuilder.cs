using System.Collections.Immutable;
using System.Globalization;
using Pairbench.Footwear;
using Pairbench.Imaging;
using Pairbench.Measuring;

namespace Pairbench.Reporting;

/// <summary>Puts a report together from what was examined. It knows outcomes and the verdict, and no examination.</summary>
public static class ReportBuilder
{
    /// <summary>Id of the section with what the review says of itself.</summary>
    public const string ReviewSection = "review";

    /// <param name="photos">Gives the photographs that findings and the review name. One that cannot be read is left out and named in the report.</param>
    public static ReportModel Build(Examined examined, Review review, IPhotoSource photos, Imprint imprint)
    {
        ArgumentNullException.ThrowIfNull(examined);
        ArgumentNullException.ThrowIfNull(review);
        ArgumentNullException.ThrowIfNull(imprint);
        return new Assembly(examined, review, new ReportPictures(photos), imprint).Report();
    }

    /// <summary>Id of the section of an outcome.</summary>
    public static string SectionOf(Outcome outcome)
    {
        ArgumentNullException.ThrowIfNull(outcome);
        return Anchor(outcome.Address.ToString());
    }

    /// <summary>More than these stand in one sentence on the first page.</summary>
    private const int ManyNotSeen = 6;

    private static string Anchor(FullAddress address) => Anchor(address.ToString());

    private static string Anchor(string address) => "at-" + address.Replace('/', '-').Replace('.', '-');

    private sealed class Assembly(Examined examined, Review review, ReportPictures pictures, Imprint imprint)
    {
        private readonly Dictionary<FullAddress, string> _anchors = [];
        private readonly List<string> _unreadable = [];
        private int _findings;

        public ReportModel Report()
        {
            var outcomes = examined.Outcomes.Where(o => !IsBare(o)).Select(OutcomeSection).ToImmutableArray();
            var photographs = Photographs();
            ImmutableArray<ReportSection?> sections =
            [
                VerdictSection(),
                DecisionSection(),
                new ReportSection(ReviewSection, "Review", ReviewBlocks()),
                RulingsSection(),
                .. outcomes,
                photographs,
                Budgets(),
                HowToRead(),
            ];
            return new ReportModel("Review report", $"{review.Style.Name}, {review.Build.Label}", imprint, [.. sections.OfType<ReportSection>()]);
        }

        /// <summary>An outcome that only says that evidence is missing stands in the verdict.</summary>
        private static bool IsBare(Outcome o) => o.Figures.IsEmpty && o.Findings.IsEmpty && o.Plates.IsEmpty && o.Tables.IsEmpty && o.Basis.IsEmpty;

        /// <summary>A sentence with its capital and its stop; a first word that is the name of a field stays as it is.</summary>
        private static string Sentenced(string words)
        {
            if (words.Length == 0)
            {
                return words;
            }

            var first = words.Split(' ', 2)[0].TrimEnd('.', ',', ':');
            var start = first.All(c => char.IsLetter(c) || c is '-' or '\'') && first[1..].All(c => !char.IsUpper(c)) ? char.ToUpperInvariant(words[0]) + words[1..] : words;
            return start[^1] is '.' or '!' or '?' or ':' ? start : start + ".";
        }

        private ReportSection VerdictSection()
        {
            var verdict = examined.Verdict;
            var blocks = ImmutableArray.CreateBuilder<Block>();
            blocks.Add(new Block.Word("Verdict", verdict.Word));
            if (verdict.Because.IsEmpty)
            {
                blocks.Add(new Block.Paragraph("No rule of the verdict was met: nothing was found, and " + (examined.IsRuled ? "no figure with a limit is outside or undecided." : "no figure has a limit that it could be held against.")));
            }

            if (ReviewPhoto.ByTelling(review.Photos).Select(pictures.Small).OfType<ReportPicture>().Take(3).ToImmutableArray() is { Length: > 0 } pair)
            {
                blocks.Add(new Block.Pictures(pair, PictureSize.Small));
            }

            Group(blocks, "Because", verdict.Because);
            Group(blocks, "What would change it", verdict.WouldChange);
            NotSeen(blocks, verdict.NotSeen);

            return new ReportSection("verdict", "Verdict", blocks.ToImmutable());
        }

        /// <summary>Many of one examination go into one sentence, which leads to their list: the first page is for what was seen.</summary>
        private void NotSeen(ImmutableArray<Block>.Builder blocks, ImmutableArray<Reason> reasons)
        {
            var kept = reasons.DistinctBy(r => (r.Address, r.Words)).ToImmutableArray();
            var sections = examined.Outcomes.Where(o => !IsBare(o)).ToDictionary(o => o.Address);
            var sentences = kept.GroupBy(r => r.Address.Entry).SelectMany(g => g.Count() > ManyNotSeen && sections.TryGetValue(g.Key, out var outcome)
                ? [new Sentence($"{outcome.Address.Title}, {g.Count().ToString(CultureInfo.InvariantCulture)} of them: {string.Join("; ", g.Select(r => r.Words.TrimEnd('.')))}.", SectionOf(outcome))]
                : g.Select(Said)).ToImmutableArray();
            if (!sentences.IsEmpty)
            {
                blocks.Add(new Block.Heading("Not seen"));
                blocks.Add(new Block.Sentences(sentences));
            }
        }

        private Sentence Said(Reason reason) => new(Sentenced(reason.Words), _anchors.GetValueOrDefault(reason.Address));

        private void Group(ImmutableArray<Block>.Builder blocks, string heading, ImmutableArray<Reason> reasons)
        {
            var sentences = reasons.DistinctBy(r => (r.Address, r.Words)).Select(Said).ToImmutableArray();
            if (!sentences.IsEmpty)
            {
                blocks.Add(new Block.Heading(heading));
                blocks.Add(new Block.Sentences(sentences));
            }
        }

        private ReportSection? DecisionSection()
        {
            if (review.Decision is not { } decision)
            {
                return null;
            }

            ImmutableArray<(string, string)> facts =
            [
                ("Taken by", decision.By),
                ("On", Display.Day(decision.On)),
                ("Reason", decision.Reason),
                .. Given("For", decision.For),
                .. Given("Holds until", decision.Until),
            ];
            var differs = decision.Taken == examined.Verdict.Word
                ? "The decision agrees with the verdict."
                : "The decision differs from the verdict; the verdict stands as computed.";
            return new ReportSection("decision", "Decision", [new Block.Word("Decision", decision.Taken), new Block.Facts(facts), new Block.Paragraph(differs)]);
        }

        private ImmutableArray<Block> ReviewBlocks()
        {
            var blocks = ImmutableArray.CreateBuilder<Block>();
            blocks.Add(new Block.Facts(ReviewFacts()));
            Texts(blocks, "Cautions", [.. review.Cautions, .. review.CautionsOn(imprint.On)]);
            return blocks.ToImmutable();
        }

        private ImmutableArray<(string, string)> ReviewFacts()
        {
            var (style, build, pair) = (review.Style, review.Build, review.Pair ?? new Pair());
            return
            [
                ("Style", style.Name),
                .. Given("Construction", style.Construction),
                .. Given("Category", style.Category),
                ("Build", build.Label),
                .. Given("Factory", build.Factory),
                .. Given("Made on", build.Date),
                .. Given("Colourway", build.Colourway),
                .. Given("Order", build.Order),
                .. Given("Lot", build.Lot),
                .. Given("Carton", build.Carton),
                .. Given("Confirmation sample", build.ConfirmationSample is { } sample ? Sample(sample) : null),
                .. Given("Size", pair.Size is { } size ? $"{pair.SizeSystem} {size}".Trim() : null),
                .. Given("Origin", pair.Origin),
                .. Given("Made for", pair.Wearer),
                .. Given("Examined by", review.Examiner?.Name),
                .. Given("Examined on", review.Examiner?.Date),
                .. Given("Room temperature", review.Room?.TemperatureC is { } t ? Shown.Of(t).Text : null),
                .. Given("Room humidity", review.Room?.HumidityPct is { } h ? Shown.Of(h).Text : null),
                .. review.Instruments.Select(i => ("Instrument", Described(i))),
                .. review.Attachments.Select(a => ("Attached", (string.IsNullOrWhiteSpace(a.Title) ? a.File : a.Title) + (a.ValidUntil is { } until ? $", valid until {Display.Day(until)}" : ""))),
                ("Report", $"{imprint.Program}, {Display.Day(imprint.On)}"),
            ];
        }

        private ReportSection? RulingsSection()
        {
            var ruled = examined.Outcomes
                .SelectMany(o => o.Figures.Where(f => f.Limit is not null).Select(f => Placed(o, f, o.Address.Title)))
                .OrderBy(f => f.Figure.Ruling switch { Ruling.Outside => 0, Ruling.Undecided => 1, _ => 2 })
                .ThenByDescending(f => f.Figure.Limit!.Severity)
                .ToImmutableArray();
            if (ruled.IsEmpty)
            {
                return null;
            }

            string Count(Ruling ruling) => ruled.Count(f => f.Figure.Ruling == ruling).ToString(CultureInfo.InvariantCulture);
            return new ReportSection("rulings", "Rulings at a glance",
            [
                new Block.Paragraph($"{Count(Ruling.Outside)} outside, {Count(Ruling.Undecided)} undecided, {Count(Ruling.Within)} within their limits."),
                new Block.Figures(ruled),
            ]);
        }

        private ReportSection OutcomeSection(Outcome outcome)
        {
            var blocks = ImmutableArray.CreateBuilder<Block>();
            if (!outcome.Figures.IsEmpty)
            {
                foreach (var figure in outcome.Figures)
                {
                    _anchors[outcome.Address.Of(figure.Id)] = Anchor(outcome.Address.Of(figure.Id));
                }

                blocks.Add(new Block.Figures([.. outcome.Figures.Select(f => Placed(outcome, f, ""))]));
            }

            if (!outcome.Findings.IsEmpty)
            {
                blocks.Add(new Block.Heading("Findings"));
                foreach (var finding in outcome.Findings)
                {
                    var address = outcome.Address.Of(finding.Id);
                    var anchor = Anchor(address);
                    _anchors[address] = anchor;
                    var picture = pictures.Of(finding);
                    if (finding.Photo is { } photo && picture is null)
                    {
                        _unreadable.Add(photo);
                    }

                    blocks.Add(new Block.Note(++_findings, address, anchor, finding, picture));
                }
            }

            foreach (var table in outcome.Tables.Where(t => !t.Rows.IsEmpty))
            {
                blocks.Add(new Block.Heading(table.Label));
                blocks.Add(new Block.Grid(table));
            }

            var plates = outcome.Plates.Where(p => !p.IsData).Select(p => (Plate: p, Picture: ReportPictures.Of(outcome, p))).ToImmutableArray();
            _unreadable.AddRange(plates.Where(p => p.Picture is null).Select(p => p.Plate.File));
            if (plates.Any(p => p.Picture is not null))
            {
                blocks.Add(new Block.Heading("Plates"));
                blocks.Add(new Block.Pictures([.. plates.Select(p => p.Picture).OfType<ReportPicture>()], PictureSize.Wide));
            }

            Texts(blocks, "Cautions", outcome.Cautions);
            Texts(blocks, "Assumptions", outcome.Assumptions);
            Texts(blocks, "Not seen", [.. outcome.NotSeen.Select(n => n.Words)]);
            Texts(blocks, "Basis", [.. outcome.Basis.Select(Described)]);
            return new ReportSection(SectionOf(outcome), outcome.Address.Title, blocks.ToImmutable());
        }

        private static ReportFigure Placed(Outcome outcome, Figure figure, string context)
        {
            var address = outcome.Address.Of(figure.Id);
            return new ReportFigure(figure, address, Anchor(address), context);
        }

        private ReportSection? Photographs()
        {
            var shown = review.Photos.Select(p => (Photo: p, Picture: pictures.Small(p))).ToImmutableArray();
            _unreadable.AddRange(shown.Where(s => s.Picture is null).Select(s => s.Photo.File));
            var blocks = ImmutableArray.CreateBuilder<Block>();
            if (shown.Any(s => s.Picture is not null))
            {
                blocks.Add(new Block.Pictures([.. shown.Select(s => s.Picture).OfType<ReportPicture>()], PictureSize.Small));
            }

            if (_unreadable.Count > 0)
            {
                blocks.Add(new Block.Paragraph($"These pictures could not be read and are not shown: {string.Join(", ", _unreadable.Distinct(StringComparer.Ordinal))}."));
            }

            return blocks.Count == 0 ? null : new ReportSection("photographs", "Photographs", blocks.ToImmutable());
        }

        private ReportSection? Budgets()
        {
            var figures = examined.Outcomes
                .SelectMany(o => o.Figures.Where(f => !f.Measured.Budget.IsEmpty).Select(f => Placed(o, f, o.Address.Title)))
                .ToImmutableArray();
            return figures.IsEmpty
                ? null
                : new ReportSection("budgets", "Where the uncertainty comes from",
                [
                    new Block.Paragraph("Each cause with its contribution to the standard uncertainty (sensitivity times standard uncertainty, with its sign). Type A comes from the spread of repeated readings, type B from anything else. A cause that stands under several figures is one and the same: its contributions are fully correlated."),
                    new Block.Budgets(figures),
                ]);
        }

        private ReportSection HowToRead() => new("reading", "How to read this report",
        [
            new Block.Sentences(
            [
                new("A value stands with its expanded uncertainty U after ±: the true value lies within ±U with a probability of 95 %. Where the interval is lopsided it stands in brackets instead. A value without U is counted, tabulated or agreed."),
                new("On a limit bar the dot is the value, the whisker the 95 % interval, an upright line a limit, and the shaded stretch what the limit allows."),
                new("Within: the true value lies in the limit with at least the stated probability (0.95 unless the limit says otherwise). Outside: with at most one less that probability. Undecided: neither is proved (JCGM 106:2012)."),
                new("The verdict follows the rules below from rulings and findings. A person's decision stands beside it and may differ."),
                new("This report is a bench review of one pair. It does not replace tests by an accredited laboratory, the advice of a customs broker, or the law of the place where the shoes are made or sold."),
            ]),
            new Block.Heading("Rules of the verdict"),
            new Block.Sentences([.. examined.Verdict.Rules.Select(r => new Sentence($"{Sentenced(r.Words)}"))]),
        ]);

        private static void Texts(ImmutableArray<Block>.Builder blocks, string heading, ImmutableArray<string> texts)
        {
            if (!texts.IsEmpty)
            {
                blocks.Add(new Block.Heading(heading));
                blocks.Add(new Block.Sentences([.. texts.Distinct(StringComparer.Ordinal).Select(t => new Sentence(Sentenced(t)))]));
            }
        }

        private static string Described(Basis basis) => $"{EnumWords.Of(basis.Kind)}: {basis.Reference}{(basis.Edition is { } edition ? $" ({edition})" : "")}";

        private static string Sample(ConfirmationSample sample) =>
            sample.Id
            + (sample.SignedBy is { } by ? $", signed by {by}" : "")
            + (sample.SignedOn is { } on ? $" on {Display.Day(on)}" : "")
            + (sample.ValidUntil is { } until ? $", valid until {Display.Day(until)}" : "");

        private static string Described(Instrument instrument) =>
            $"{instrument.Kind} ({instrument.Id})"
            + (instrument.CalibratedOn is { } on ? $", calibrated {Display.Day(on)}" : "")
            + (instrument.CalibrationUntil is { } until ? $", valid until {Display.Day(until)}" : "")
            + (instrument.Certificate is { } certificate ? $", certificate {certificate}" : "");

        private static ImmutableArray<(string, string)> Given(string name, string? value) => string.IsNullOrWhiteSpace(value) ? [] : [(name, value)];

        private static ImmutableArray<(string, string)> Given(string name, DateOnly? value) => value is { } date ? [(name, Display.Day(date))] : [];
    }
}

using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Text.Json;
using Pairbench.Footwear;
using Pairbench.Imaging;
using Pairbench.Imaging.Photographs;
using Pairbench.Measuring;

namespace Pairbench.Reporting.Tests;

/// <summary>An invented review with all that a report may have to show: every ruling, exact and lopsided figures, tables, plates, findings with and without marks, hostile words.</summary>
internal static class InventedReview
{
    public const string Hostile = "<script>alert('x')</script> & \"quoted\" \u202eturned";

    public static Imprint Imprint { get; } = new("Pairbench 0.1.0", new DateOnly(2026, 11, 25));

    public static Review Review { get; } = new(
        Review.CurrentFormat,
        new Style("Harbour walker (invented)", "harbour-walker", "cold-cemented", "leisure shoe"),
        new Build("bulk 2", "Invented factory, line 4", new DateOnly(2026, 10, 2), "sand and slate", "order 4711", "lot 2", "carton 38", new ConfirmationSample("cs-12", "A. Sample", new DateOnly(2026, 6, 1), new DateOnly(2027, 6, 1))),
        new Pair("42", "EU", "Portugal (invented)"),
        [new ReviewPhoto("sole.jpg", "sole", Side.Left, "Left sole"), new ReviewPhoto("side.jpg", "lateral", Side.Right), new ReviewPhoto("missing.jpg")],
        Examiner: new Examiner("E. Examiner", new DateOnly(2026, 11, 24)),
        Instruments: [new Instrument("durometer-1", "Durometer, Shore A", new DateOnly(2026, 3, 1), new DateOnly(2027, 3, 1), "C-100")],
        Room: new Room(Measured.Of(22.8, "Cel", "thermometer", 0.25), Measured.Of(48, "%", "hygrometer", 1.5)),
        Decision: new Decision(VerdictWord.PassWithCorrections, "Q. Manager", new DateOnly(2026, 11, 25), "Textile share is checked again on five pairs before shipping.", new DateOnly(2026, 12, 24), "order 4711, 1,200 pairs"));

    public static IPhotoSource Photos { get; } = new Pictures();

    public static ImmutableArray<Outcome> Outcomes { get; } =
    [
        new Outcome
        {
            Examination = "walk-round",
            Entry = "main",
            Findings =
            [
                new Finding("toe-cap", Severity.Major, "Toe cap edge sits 3 mm higher on the left shoe than on the right")
                {
                    Component = "toe cap", Side = Side.Left, Zone = "lateral", Correction = "Set the toe cap against the gauge before cementing.", Photo = "side.jpg", Mark = Json("""{ "path": [[400, 300], [480, 330], [560, 310]] }"""), Figure = FullAddress.Read("pair-match/main/toe-cap-length.difference"),
                },
                new Finding("glue", Severity.Minor, "Glue above the foxing line at the heel") { Component = "foxing", Side = Side.Right, Photo = "side.jpg", Mark = Json("""{ "point": [200, 200] }"""), Correction = "Wipe with a damp cloth before the oven." },
                new Finding("hostile", Severity.Minor, Hostile) { Photo = "missing.jpg", Component = Hostile },
            ],
            NotSeen = [new NotSeen("strobel-seam", "Strobel seam was not seen: the footbed is glued in.", true), new NotSeen("smell", "Smell was not judged.", false)],
            Basis = [new Basis(BasisKind.Practice, "Check catalogue for cold-cemented construction", "2026-1")],
        },
        new Outcome
        {
            Examination = "underfoot",
            Entry = "left",
            Figures =
            [
                new Figure("contact-area", "Contact area", Measured.Of(14230, "mm2", [new Contribution("scale:sole", Evaluation.TypeB, 57), new Contribution("boundary:sole", Evaluation.TypeB, 61)])),
                new Figure("share.textile", "Textile share of ground contact", Measured.Of(52.31, "%", [new Contribution("boundary:sole", Evaluation.TypeB, 0.72), new Contribution("label:sole", Evaluation.TypeB, 0.54)]), new Limit(50, null, Severity.Major, "Order specification 4711")),
                new Figure("share.rubber", "Rubber share of ground contact", Measured.Of(47.69, "%", [new Contribution("boundary:sole", Evaluation.TypeB, -0.72), new Contribution("label:sole", Evaluation.TypeB, -0.54)])),
                new Figure("lead", "Lead of the largest share", Measured.Of(4.62, "%", [new Contribution("boundary:sole", Evaluation.TypeB, 1.44), new Contribution("label:sole", Evaluation.TypeB, 1.08)]), new Limit(2, null, Severity.Critical, "Order specification 4711")),
            ],
            Plates = [new Plate("regions", "regions.png", "Material where it touches the ground", "image/png", PictureWriter.Png(Pictures.Sole(240, 480)))],
            Tables =
            [
                new Table("zones", "Zones", [new Column("zone", "Zone"), new Column("material", "Material"), new Column("area", "Area")],
                    [.. Enumerable.Range(1, 60).Select(i => ImmutableArray.Create<Cell>($"zone {i}", i % 3 == 0 ? "textile" : "rubber", Measured.Of(100 + i, "mm2", "boundary:sole", 1.2)))]),
            ],
            Assumptions = ["scale is taken from the drawn rectangle.", "The sole lies flat on the sheet."],
            Cautions = ["Customs decides on the imported shoe; have a broker confirm the share of materials."],
            Basis = [new Basis(BasisKind.Standard, "JCGM 106", "2012"), new Basis(BasisKind.Law, "Invented order on footwear, article 4", "2024")],
        },
        new Outcome
        {
            Examination = "hardness",
            Entry = "main",
            Figures =
            [
                new Figure("heel.hardness", "Heel hardness", Measured.Of(66.4, "ShoreA", [new Contribution("readings:heel", Evaluation.TypeA, 0.42, 4), new Contribution("durometer-1", Evaluation.TypeB, 0.5)]), new Limit(55, 65, Severity.Minor, "Style limit")),
                new Figure("toe.hardness", "Toe hardness", Measured.Of(61.2, "ShoreA", [new Contribution("readings:toe", Evaluation.TypeA, 0.31, 4), new Contribution("durometer-1", Evaluation.TypeB, 0.5)]), new Limit(55, 65, Severity.Minor, "Style limit")),
                new Figure("toe.delta-e00", "Colour difference at the toe", Lopsided(), new Limit(null, 1.5, Severity.Minor, "Style limit")),
                new Figure("toe.peak", "Peak temperature in the oven", Measured.Of(71.3, "Cel", "thermocouple", 0.8)),
                new Figure("toe.count", "Readings taken", Measured.Exact(5, "1")),
            ],
        },
    ];

    public static Examined Examined { get; } = new(Outcomes, Verdict.Of(Outcomes, Rules));

    private static VerdictRules Rules => new("2026-1", "invented", [
        new VerdictRule("critical", [VerdictTrigger.Finding, VerdictTrigger.Outside], Severity.Critical, 1, VerdictWord.Reject, "a critical finding, or a figure outside a critical limit, rejects"),
        new VerdictRule("undecided", [VerdictTrigger.Undecided], Severity.Critical, 1, VerdictWord.Hold, "an undecided critical limit holds"),
        new VerdictRule("required", [VerdictTrigger.NotSeen], null, 1, VerdictWord.Hold, "a required check that was not seen holds"),
        new VerdictRule("major", [VerdictTrigger.Finding, VerdictTrigger.Outside], Severity.Major, 1, VerdictWord.PassWithCorrections, "a major finding passes with corrections"),
        new VerdictRule("minor", [VerdictTrigger.Finding, VerdictTrigger.Outside], Severity.Minor, 1, VerdictWord.PassWithCorrections, "a minor finding passes with corrections"),
    ]);

    public static JsonElement Json(string text) => JsonDocument.Parse(text).RootElement;

    private static Measured Lopsided() => Measured.Of(0.62, "1", "camera", 0.4).WithSamples(Enumerable.Range(1, 999).Select(i => -0.5 * Math.Log(1 - (i / 1000.0))));

    /// <summary>A JPEG with an EXIF block that names a maker and a place on earth.</summary>
    public static byte[] WithTags(byte[] jpeg)
    {
        var tiff = new List<byte>();
        tiff.AddRange("II*\0"u8.ToArray());
        Int(8);
        Short(2);
        Entry(0x010F, 2, 8, 38);
        Entry(0x8825, 4, 1, 46);
        Int(0);
        tiff.AddRange("SpyMaker"u8.ToArray());
        Short(1);
        Entry(0x0001, 2, 2, 'N');
        Int(0);
        byte[] exif = [.. "Exif\0\0"u8, .. tiff];
        var length = new byte[2];
        BinaryPrimitives.WriteUInt16BigEndian(length, (ushort)(exif.Length + 2));
        return [0xFF, 0xD8, 0xFF, 0xE1, .. length, .. exif, .. jpeg.AsSpan(2)];

        void Short(int value) => tiff.AddRange(BitConverter.GetBytes((ushort)value));

        void Int(int value) => tiff.AddRange(BitConverter.GetBytes(value));

        void Entry(int tag, int type, int count, int value)
        {
            Short(tag);
            Short(type);
            Int(count);
            Int(value);
        }
    }

    private sealed class Pictures : IPhotoSource
    {
        private readonly ImmutableDictionary<string, byte[]> _files = new Dictionary<string, byte[]>
        {
            ["sole.jpg"] = WithTags(PictureWriter.Jpeg(Sole(600, 1200))),
            ["side.jpg"] = WithTags(PictureWriter.Jpeg(Sole(1200, 800))),
        }.ToImmutableDictionary();

        public IPhotograph Open(string file) => _files.TryGetValue(file, out var bytes)
            ? PhotoFile.Open(file, bytes)
            : throw new PhotoException(file, "is not there", "name a file");

        /// <summary>An oval with stripes on a light ground.</summary>
        public static RgbImage Sole(int width, int height)
        {
            var pixels = new byte[width * height * 3];
            for (var y = 0; y < height; y++)
            {
                for (var x = 0; x < width; x++)
                {
                    var (u, v) = (((2.0 * x) / width) - 1, ((2.0 * y) / height) - 1);
                    var inside = (u * u / 0.6) + (v * v / 0.9) < 1;
                    var stripe = y / Math.Max(1, height / 24) % 2 == 0;
                    var (r, g, b) = !inside ? (225, 222, 214) : stripe ? (70, 74, 80) : (150, 128, 96);
                    var at = ((y * width) + x) * 3;
                    (pixels[at], pixels[at + 1], pixels[at + 2]) = ((byte)(r + (7 * x % 5)), (byte)g, (byte)b);
                }
            }

            return new RgbImage(new PixelSize(width, height), pixels);
        }
    }
}

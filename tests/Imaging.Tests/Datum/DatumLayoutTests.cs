using Pairbench.Imaging.Datum;
using ZXing.Common;

namespace Pairbench.Imaging.Tests.Datum;

public sealed class DatumLayoutTests
{
    public static TheoryData<DatumLayout> Layouts => [.. Enum.GetValues<DatumPaper>().Select(DatumLayout.Sheet), DatumLayout.Cards];

    [Theory]
    [MemberData(nameof(Layouts))]
    public void EverythingLiesOnThePageWhereAnyPrinterPrints(DatumLayout layout)
    {
        ArgumentNullException.ThrowIfNull(layout);
        foreach (var target in layout.Targets)
        {
            Assert.All(target.Areas.Concat(target.Neutrals), a =>
            {
                Assert.InRange(target.Origin.X + a.Place.Left, 5, layout.Page.Width - 5 - a.Place.Width);
                Assert.InRange(target.Origin.Y + a.Place.Top, 5, layout.Page.Height - 5 - a.Place.Height);
            });
            Assert.All(target.Codes, c => Assert.Equal(c.Text, target.Codes.Single(o => o.Text.Number == c.Text.Number).Text));
        }
    }

    [Theory]
    [MemberData(nameof(Layouts))]
    public void NothingIsPrintedIntoTheQuietZoneOfACode(DatumLayout layout)
    {
        ArgumentNullException.ThrowIfNull(layout);
        foreach (var (target, code) in layout.Targets.SelectMany(t => t.Codes.Select(c => (t, c))))
        {
            // Four modules, ISO/IEC 18004.
            var (left, top) = (code.TopLeft.X - (4 * code.ModuleMm), code.TopLeft.Y - (4 * code.ModuleMm));
            var side = code.SideMm + (8 * code.ModuleMm);
            Assert.DoesNotContain(target.Areas.Concat(target.Neutrals), a =>
                a.Place.Left < left + side && a.Place.Left + a.Place.Width > left && a.Place.Top < top + side && a.Place.Top + a.Place.Height > top);
        }
    }

    [Theory]
    [MemberData(nameof(Layouts))]
    public void CodesSayWhatTheyStandOnAndWhere(DatumLayout layout)
    {
        ArgumentNullException.ThrowIfNull(layout);
        foreach (var code in layout.Targets.SelectMany(t => t.Codes))
        {
            var bits = new BitMatrix(PrintedCode.Modules);
            for (var row = 0; row < PrintedCode.Modules; row++)
            {
                for (var column = 0; column < PrintedCode.Modules; column++)
                {
                    bits[column, row] = code[column, row];
                }
            }

            Assert.True(DatumCodeText.TryParse(new ZXing.QrCode.Internal.Decoder().decode(bits, null).Text, out var read));
            Assert.Equal(code.Text, read);
        }
    }

    [Theory]
    [InlineData("")]
    [InlineData("PB1A45025002500")]
    [InlineData("PB1A4502500250")]
    [InlineData("PB2A4102500250")]
    [InlineData("PB1A41-2500250")]
    [InlineData("HTTPS://A.EXAM")]
    public void OtherCodesAreNotOurs(string text) => Assert.False(DatumCodeText.TryParse(text, out _));
}

using System.Collections.Immutable;
using System.Globalization;
using QRCoder;

namespace Pairbench.Imaging.Datum;

/// <summary>What a code of ours says: what it is printed on, which of its codes it is, and where its middle lies there.</summary>
/// <param name="Print">Two signs: <c>A4</c>, <c>A3</c>, <c>LT</c> for the sheets, <c>CD</c> for loose cards.</param>
/// <param name="Number">1 top-left, 2 top-right, 3 bottom-right, 4 bottom-left.</param>
/// <param name="Middle">In mm of the sheet or card, to a tenth.</param>
public readonly record struct DatumCodeText(string Print, int Number, PlanePoint Middle)
{
    // Ours, and the edition of the layout.
    private const string Opening = "PB1";

    public override string ToString() =>
        string.Create(CultureInfo.InvariantCulture, $"{Opening}{Print}{Number}{Math.Round(10 * Middle.X):0000}{Math.Round(10 * Middle.Y):0000}");

    /// <summary>Reads what a code says.</summary>
    /// <returns>Whether it is a code of ours, of an edition that is known.</returns>
    public static bool TryParse(string text, out DatumCodeText code)
    {
        code = default;
        if (text is not { Length: 14 } || !text.StartsWith(Opening, StringComparison.Ordinal) || text[5] is < '1' or > '4'
            || !int.TryParse(text.AsSpan(6, 4), NumberStyles.None, CultureInfo.InvariantCulture, out var x)
            || !int.TryParse(text.AsSpan(10, 4), NumberStyles.None, CultureInfo.InvariantCulture, out var y))
        {
            return false;
        }

        code = new DatumCodeText(text[3..5], text[5] - '0', new PlanePoint(x / 10.0, y / 10.0));
        return true;
    }
}

/// <summary>A code as printed: ISO/IEC 18004, version 1 (21 modules a side), error correction level Q.</summary>
public sealed class PrintedCode
{
    /// <summary>Modules along a side.</summary>
    public const int Modules = 21;

    private readonly bool[] _dark;

    public PrintedCode(DatumCodeText text, double moduleMm)
    {
        Text = text;
        ModuleMm = moduleMm;
        using var generator = new QRCodeGenerator();
        using var data = generator.CreateQrCode(text.ToString(), QRCodeGenerator.ECCLevel.Q, requestedVersion: 1);
        var quiet = (data.ModuleMatrix.Count - Modules) / 2;
        _dark = [.. from row in Enumerable.Range(quiet, Modules) from column in Enumerable.Range(quiet, Modules) select data.ModuleMatrix[row][column]];
    }

    public DatumCodeText Text { get; }

    public double ModuleMm { get; }

    public double SideMm => Modules * ModuleMm;

    public PlanePoint TopLeft => new(Text.Middle.X - (SideMm / 2), Text.Middle.Y - (SideMm / 2));

    /// <summary>Whether a module is dark; outside the code all is light.</summary>
    public bool this[int column, int row] => column is >= 0 and < Modules && row is >= 0 and < Modules && _dark[(row * Modules) + column];

    /// <summary>A place in modules from the outer corner of the top-left one, in mm of the sheet or card.</summary>
    public PlanePoint At(double column, double row) => new(TopLeft.X + (column * ModuleMm), TopLeft.Y + (row * ModuleMm));

    /// <summary>Middles of the three finder patterns: top-left, top-right, bottom-left.</summary>
    public ImmutableArray<PlanePoint> Finders => [At(3.5, 3.5), At(Modules - 3.5, 3.5), At(3.5, Modules - 3.5)];
}

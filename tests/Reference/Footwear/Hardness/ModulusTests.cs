using Pairbench.Footwear.Hardness;

namespace Pairbench.Reference.Footwear.Hardness;

/// <summary>Published relations between hardness and modulus against values computed from their formulas elsewhere.</summary>
public sealed class ModulusTests
{
    /// <remarks>
    /// Gent, Rubber Chem. Technol. 31 (1958) 896 (formula seen in public program texts); the logarithmic rule as used by Qi, Joyce and Boyce,
    /// Rubber Chem. Technol. 76 (2003) 419, base 10 (seen); Kunz and Studer 2006 (from memory). In MPa; absent outside the rule's validity.
    /// </remarks>
    [Theory]
    [InlineData(10, 0.41268, null, 0.54878)]
    [InlineData(15, 0.56291, null, 0.74895)]
    [InlineData(25, 0.92346, 0.88552, 1.22937)]
    [InlineData(30, 1.14237, 1.16065, 1.52105)]
    [InlineData(40, 1.68964, 1.99388, 2.25025)]
    [InlineData(45, 2.0379, 2.61336, 2.71429)]
    [InlineData(55, 2.96659, 4.48952, 3.95173)]
    [InlineData(60, 3.60507, 5.88437, 4.80247)]
    [InlineData(70, 5.52051, 10.10881, 7.35468)]
    [InlineData(75, 7.05285, 13.24952, 9.39646)]
    [InlineData(85, 13.18224, null, 17.56354)]
    [InlineData(90, 20.84398, null, 27.77241)]
    public void Shore_a(double shoreA, double gent, double? logarithmic, double kunzStuder)
    {
        Assert.Equal(gent, HardnessModulus.Gent(shoreA), 5e-6);
        Assert.Equal(kunzStuder, HardnessModulus.KunzStuder(shoreA), 5e-6);
        if (logarithmic is { } expected)
        {
            Assert.Equal(expected, HardnessModulus.Logarithmic(shoreA), 5e-6);
        }
    }

    /// <remarks>Qi, Joyce and Boyce 2003, inverted (coefficients seen in a public program text); the logarithmic rule with 50 added (seen on a simulation page). In MPa.</remarks>
    [Theory]
    [InlineData(30, 19.1481, 17.366)]
    [InlineData(35, 25.9084, 22.7615)]
    [InlineData(45, 46.5251, 39.1021)]
    [InlineData(50, 62.5504, 51.2507)]
    [InlineData(60, 117.282, 88.044)]
    [InlineData(65, 165.95, 115.3985)]
    [InlineData(75, 375.3024, 198.244)]
    [InlineData(80, 625.504, 259.8364)]
    public void Shore_d(double shoreD, double qi, double logarithmic)
    {
        Assert.Equal(qi, HardnessModulus.Qi(shoreD), 5e-5);
        Assert.Equal(logarithmic, HardnessModulus.Logarithmic(shoreD + 50), 5e-5);
    }

    /// <remarks>The pitfall that widely read pages fall into: with natural logarithms the rule gives 2.7 MPa at Shore A 70.</remarks>
    [Fact]
    public void The_logarithm_has_base_ten() => Assert.Equal(10.1, HardnessModulus.Logarithmic(70), 0.05);
}

using Tussock.Measures;
using Xunit;

namespace Tussock.Tests.Measures;

public class MeasuresTests
{
    [Fact]
    public void A_tenth_of_an_acre_is_4356_square_feet() =>
        Assert.Equal(4356, Area.FromAcres(0.1) / (Length.MetresPerFoot * Length.MetresPerFoot), 9);

    [Fact]
    public void There_and_back_changes_nothing()
    {
        Assert.Equal(7.25, Area.Acres(Area.FromAcres(7.25)), 12);
        Assert.Equal(7.25, Area.Hectares(Area.FromHectares(7.25)), 12);
        Assert.Equal(7.25, Length.Feet(Length.FromFeet(7.25)), 12);
        Assert.Equal(Area.PerHectare(0.0741), Area.PerHectareFromPerAcre(Area.PerAcre(0.0741)), 10);
    }
}

public class MeasuresChecks
{
    [Fact]
    public void Factors_are_those_of_the_1959_agreement()
    {
        Assert.Equal(PublishedValues.Of("units", "international foot m"), Length.FromFeet(1), 15);
        Assert.Equal(PublishedValues.Of("units", "international yard m"), 1 / Length.Yards(1), 15);
        Assert.Equal(PublishedValues.Of("units", "international mile m"), 1 / Length.Miles(1), 9);
        Assert.Equal(PublishedValues.Of("units", "inches per cm"), Length.Inches(0.01), 12);
        Assert.Equal(PublishedValues.Of("units", "international acre m2 (43560 ft2)"), Area.FromAcres(1), 9);
        Assert.Equal(PublishedValues.Of("units", "hectare in international acres"), Area.Acres(Area.SquareMetresPerHectare), 12);
        Assert.Equal(PublishedValues.Of("units", "acre in hectares"), Area.Hectares(Area.SquareMetresPerAcre), 12);
    }
}

using Tussock.Land;
using Tussock.Layout;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Layout;

/// <summary>Starts are spread better than simple random ones, by the variance of how much land lies nearest to each (Stevens and Olsen 2004, Journal of the American Statistical Association 99:262–278).</summary>
public class SpatialBalanceTests(ITestOutputHelper output)
{
    private const int Layouts = 60;
    private const int Lines = 8;

    /// <summary>Greatest ratio of the two variances that is promised; docs/methods/layout.md.</summary>
    private const double Promised = 0.55;

    [Theory]
    [InlineData("star", 3)]
    [InlineData("holed", 1)]
    [InlineData("pieces", 2)]
    [InlineData("many corners", 5)]
    public void Starts_are_spread_better_than_by_simple_chance(string kind, ulong seed)
    {
        var land = Lands.Of(kind, Seeded.Of(seed, 99));
        // Short lines that need no distance: what spreads them is the sequence alone.
        var rules = new LayoutRules(Lines, 1) { SeparationM = 0, StepM = 0.2 };
        var (balanced, random) = (0.0, 0.0);
        var inside = Inside(land, Seeded.Of(seed, 5), 3000);
        for (var i = 0; i < Layouts; i++)
        {
            var drawn = SeasonLayout.Draw(new LayoutRequest([new LayoutArea("P", "A", "", land)], rules), (ulong)i, TestContext.Current.CancellationToken);
            Assert.Empty(drawn.Shortfalls);
            balanced += Variance([.. drawn.Lines.Select(l => l.Flags[0])], inside);
            random += Variance(Inside(land, Seeded.Of((ulong)i, 17), Lines), inside);
        }

        output.WriteLine($"{kind}: {balanced / random:0.000}");
        Assert.True(balanced < Promised * random, $"{kind}: {balanced / random:0.000}");
    }

    private static double Variance(Position[] starts, Position[] land)
    {
        var shares = new double[starts.Length];
        foreach (var place in land) shares[Enumerable.Range(0, starts.Length).MinBy(i => Offset.Between(place, starts[i]).DistanceM)] += (double)starts.Length / land.Length;
        return shares.Sum(s => (s - 1) * (s - 1)) / (starts.Length - 1);
    }

    private static Position[] Inside(Boundary land, Seeded chance, int count)
    {
        var corners = land.Rings.SelectMany(r => r).ToArray();
        var (south, north, west, east) = (corners.Min(c => c.Latitude), corners.Max(c => c.Latitude), corners.Min(c => c.Longitude), corners.Max(c => c.Longitude));
        return [.. Endless().Select(_ => new Position(south + (chance.NextUniform() * (north - south)), west + (chance.NextUniform() * (east - west)))).Where(land.Contains).Take(count)];
    }

    private static IEnumerable<int> Endless()
    {
        while (true) yield return 0;
    }
}

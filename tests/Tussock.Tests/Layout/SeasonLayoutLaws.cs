using Tussock.Land;
using Tussock.Layout;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Layout;

/// <summary>What holds for every layout, on invented land of every awkward kind: 200 pastures here, 10,000 with TUSSOCK_LONG=1.</summary>
public class SeasonLayoutLaws
{
    private static readonly int OfAKind = Environment.GetEnvironmentVariable("TUSSOCK_LONG") == "1" ? 1000 : 20;

    public static TheoryData<string> Kinds => [.. Lands.Kinds];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Every_line_is_wholly_inside_apart_and_the_same_again(string kind)
    {
        var lines = 0;
        for (var seed = 0; seed < OfAKind; seed++)
        {
            var chance = Seeded.Of((ulong)seed, (ulong)Array.IndexOf(Lands.Kinds, kind));
            var land = Lands.Of(kind, chance);
            var rules = new LayoutRules(1 + chance.NextBelow(5), 3 + chance.NextBelow(8))
            {
                SeparationM = chance.NextBelow(3) * 60,
                EdgeM = chance.NextBelow(2) * 15,
                StepM = 0.6 + (0.4 * chance.NextUniform()),
                GradientDeg = chance.NextBelow(5) == 0 ? chance.NextBelow(360) : null,
            };
            var request = new LayoutRequest([new LayoutArea("P", "A", "", land)], rules);
            var drawn = SeasonLayout.Draw(request, (ulong)seed, TestContext.Current.CancellationToken);

            Holds(kind + " " + seed, land, rules, drawn);
            lines += drawn.Lines.Length;
            if (seed % 10 == 0) Same(drawn, SeasonLayout.Draw(request, (ulong)seed, TestContext.Current.CancellationToken));
        }

        if (kind != "tiny") Assert.True(lines > OfAKind / 3, $"only {lines} lines were tried");
    }

    private static void Holds(string which, Boundary land, LayoutRules rules, DrawnLayout drawn)
    {
        var exactly = new Exactly(land);
        Assert.Equal(rules.Lines, drawn.Lines.Length + drawn.Shortfalls.Sum(s => s.Asked - s.Fits));
        foreach (var line in drawn.Lines)
        {
            Assert.True(exactly.Holds(line.Flags), which + " leaves the land: " + line.Name);
            if (rules.EdgeM > 0) Assert.True(exactly.EdgeM(line.Flags) >= rules.EdgeM, which + " comes too near to an edge: " + line.Name);
            Assert.Equal(rules.Stations + 1, line.Flags.Length);
            for (var i = 1; i < line.Flags.Length; i++) Assert.Equal(rules.BetweenM, Offset.Between(line.Flags[i - 1], line.Flags[i]).DistanceM, (0.01 * rules.BetweenM) + 0.02);
        }

        for (var i = 0; i < drawn.Lines.Length; i++)
            for (var k = 0; k < i; k++) Assert.True(rules.SeparationM == 0 || exactly.ApartM(drawn.Lines[i].Flags, drawn.Lines[k].Flags) >= rules.SeparationM, which + " too near: " + drawn.Lines[i].Name + " " + drawn.Lines[k].Name);
    }

    private static void Same(DrawnLayout one, DrawnLayout other)
    {
        Assert.Equal(one.Lines.Select(l => (l.Name, l.BearingTrueDeg)), other.Lines.Select(l => (l.Name, l.BearingTrueDeg)));
        Assert.Equal(one.Lines.SelectMany(l => l.Flags), other.Lines.SelectMany(l => l.Flags));
        Assert.Equal(one.Shortfalls.SelectMany(s => s.WouldFit), other.Shortfalls.SelectMany(s => s.WouldFit));
    }
}

using System.Collections.Immutable;
using Tussock.Land;
using Tussock.Layout;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Layout;

public class SeasonLayoutTests
{
    private static readonly LocalPlane Plane = new(new Position(27, -98.5));

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    /// <summary>A rectangle of metres on an invented plane.</summary>
    private static Boundary Rectangle(double west, double south, double wide, double high) =>
        new([[Plane.Place(west, south), Plane.Place(west + wide, south), Plane.Place(west + wide, south + high), Plane.Place(west, south + high)]]);

    private static LayoutArea Area(Boundary land, string pasture = "South", string stratum = "") => new("Two Windmills", pasture, stratum, land);

    private static DrawnLayout Draw(LayoutRules rules, params ReadOnlySpan<LayoutArea> areas) => SeasonLayout.Draw(new LayoutRequest([.. areas], rules), 1, Cancel);

    [Fact]
    public void A_wide_pasture_gets_straight_lines_of_the_right_length_with_names_and_stations()
    {
        var drawn = Draw(new LayoutRules(6, 8) { Covers = ["bunchgrass", "cactus"] }, Area(Rectangle(0, 0, 2000, 1500)));

        Assert.Empty(drawn.Shortfalls);
        Assert.Equal(["S1", "S2", "S3", "S4", "S5", "S6"], drawn.Lines.Select(l => l.Name));
        Assert.All(drawn.Lines, l =>
        {
            Assert.Equal(LineForm.Straight, l.Form);
            Assert.Equal(8 * 37.5, Offset.Between(l.Flags[0], l.Flags[8]).DistanceM, 0.3);
            Assert.Equal(l.BearingTrueDeg, Offset.Between(l.Flags[0], l.Flags[8]).BearingTrueDeg, 0.1);
            Assert.Equal(["bunchgrass", "cactus", "bunchgrass", "cactus"], l.Stations.Take(4).Select(s => s.Cover));
            Assert.All(l.Stations, s => Assert.True(s.IsFlagged));
        });
    }

    [Fact]
    public void Where_the_pasture_is_compact_a_line_goes_round()
    {
        // 300 m of line on a square whose diagonal is 198 m.
        var drawn = Draw(new LayoutRules(1, 8), Area(Rectangle(0, 0, 140, 140)));

        var line = Assert.Single(drawn.Lines);
        Assert.Equal(LineForm.Loop, line.Form);
        Assert.True(Offset.Between(line.Flags[0], line.Flags[8]).DistanceM < 0.5);
        Assert.Equal([2, 4, 6], line.Corners.Select(c => c.Flag));
    }

    [Fact]
    public void Where_the_pasture_has_an_elbow_a_line_turns()
    {
        Boundary elbow = new([[Plane.Place(0, 0), Plane.Place(230, 0), Plane.Place(230, 30), Plane.Place(30, 30), Plane.Place(30, 230), Plane.Place(0, 230)]]);

        var drawn = SeasonLayout.Draw(new LayoutRequest([Area(elbow)], new LayoutRules(1, 8)), 5, Cancel);

        Assert.Equal(LineForm.Bent, Assert.Single(drawn.Lines).Form);
    }

    [Fact]
    public void What_does_not_fit_is_said_with_what_would()
    {
        var drawn = Draw(new LayoutRules(12, 10) { SeparationM = 150, MayBend = false }, Area(Rectangle(0, 0, 1200, 900)));

        var shortfall = Assert.Single(drawn.Shortfalls);
        Assert.Equal(drawn.Lines.Length, shortfall.Fits);
        Assert.Equal("plan.why_crowded", shortfall.Why.Key);
        Assert.Contains(shortfall.WouldFit, w => w.Key == "plan.fits_lines");
        var separation = Assert.Single(shortfall.WouldFit, w => w.Key == "plan.fits_separation");
        var metres = (double)separation.Arguments.Single(a => a.Name == "metres").Value;
        Assert.Empty(Draw(new LayoutRules(12, 10) { SeparationM = metres, MayBend = false }, Area(Rectangle(0, 0, 1200, 900))).Shortfalls);
    }

    [Theory]
    [InlineData(0, 0, "plan.why_no_land")]
    [InlineData(20, 20, "plan.why_no_start")]
    [InlineData(90, 70, "plan.why_no_line")]
    public void Why_nothing_fits_is_said(double wide, double high, string why)
    {
        var land = wide == 0 ? new Boundary([]) : Rectangle(0, 0, wide, high);

        var drawn = Draw(new LayoutRules(2, 20) { EdgeM = 15 }, Area(land));

        Assert.Equal(why, Assert.Single(drawn.Shortfalls).Why.Key);
        Assert.Empty(drawn.Lines);
    }

    [Fact]
    public void Land_too_large_for_one_plane_is_refused_and_not_laid_out_wrong() =>
        Assert.Equal("plan.why_too_large", Assert.Single(Draw(new LayoutRules(2, 8), Area(new Boundary([[new(60, 10), new(64, 10), new(64, 12)]]))).Shortfalls).Why.Key);

    [Fact]
    public void Lines_keep_away_from_roads_and_water()
    {
        LayoutZone[] zones = [new("road", false, [[Plane.Place(-100, 500), Plane.Place(1600, 700)]], 80), new("tank", true, [[Plane.Place(900, 900), Plane.Place(1100, 900), Plane.Place(1000, 1100)]], 50)];
        var drawn = SeasonLayout.Draw(new LayoutRequest([Area(Rectangle(0, 0, 1500, 1500))], new LayoutRules(6, 6)) { Zones = [.. zones] }, 2, Cancel);

        Assert.Empty(drawn.Shortfalls);
        foreach (var zone in zones)
        {
            var path = zone.IsArea ? zone.Paths[0].Add(zone.Paths[0][0]) : zone.Paths[0];
            Assert.All(drawn.Lines, l => Assert.True(new Exactly(Rectangle(0, 0, 1500, 1500)).ApartM(l.Flags, path) >= zone.KeepM, zone.Name));
        }
    }

    [Fact]
    public void With_a_gradient_every_line_runs_along_it()
    {
        var drawn = Draw(new LayoutRules(8, 6) { GradientDeg = 30 }, Area(Rectangle(0, 0, 2000, 1500)));

        Assert.Equal([30, 210], drawn.Lines.Select(l => l.BearingTrueDeg).Distinct().Order());
    }

    [Fact]
    public void Strata_share_the_lines_of_their_pasture_by_area_one_each_at_least()
    {
        var drawn = Draw(new LayoutRules(8, 6), Area(Rectangle(0, 0, 600, 1500), stratum: "clay"), Area(Rectangle(600, 0, 1800, 1500), stratum: "sand"), Area(Rectangle(2400, 0, 350, 350), stratum: "burnt"));

        Assert.Equal([("burnt", 1), ("clay", 2), ("sand", 5)], drawn.Lines.GroupBy(l => l.Stratum).Select(g => (g.Key, g.Count())).Order());
        Assert.Equal(Enumerable.Range(1, 8).Select(i => "S" + i), drawn.Lines.Select(l => l.Name));
    }

    [Fact]
    public void Another_pasture_far_away_moves_no_line()
    {
        var alone = Draw(new LayoutRules(4, 8), Area(Rectangle(0, 0, 2000, 1500)));
        var both = Draw(new LayoutRules(4, 8), Area(Rectangle(9000, 0, 2000, 1500), "East"), Area(Rectangle(0, 0, 2000, 1500)));

        Assert.Equal(alone.Lines.SelectMany(l => l.Flags), both.Lines.Where(l => l.Pasture == "South").SelectMany(l => l.Flags));
    }

    [Fact]
    public void A_pasture_that_is_cut_at_180_degrees_as_the_standard_wants_it_is_one_piece()
    {
        var land = new Boundary([[new(-17, 179.997), new(-17, 180), new(-16.99, 180), new(-16.99, 179.997)], [new(-17, -180), new(-17, -179.997), new(-16.99, -179.997), new(-16.99, -180)]]);

        var across = Enumerable.Range(0, 20).SelectMany(seed => SeasonLayout.Draw(new LayoutRequest([Area(land)], new LayoutRules(2, 8)), (ulong)seed, Cancel).Lines).Count(l => l.Flags.Any(f => f.Longitude > 0) && l.Flags.Any(f => f.Longitude < 0));

        Assert.True(across > 10, $"only {across} lines cross");
    }

    [Fact]
    public void Flags_at_half_of_the_stations_fall_on_half_of_each_class()
    {
        var drawn = Draw(new LayoutRules(6, 12) { Covers = ["bunchgrass", "cactus"], HalfFlagged = true }, Area(Rectangle(0, 0, 3000, 2500)));

        Assert.All(drawn.Lines, l => Assert.All(l.Stations.GroupBy(s => s.Cover), g => Assert.Equal(3, g.Count(s => s.IsFlagged))));
        Assert.Equal(2, drawn.Lines.Select(l => l.Stations[0].IsFlagged).Distinct().Count());
    }

    [Fact]
    public void Drawn_turns_give_each_class_as_many_stations_in_another_order()
    {
        var drawn = Draw(new LayoutRules(6, 12) { Covers = ["bunchgrass", "cactus", "shrub"], Turns = CoverTurns.Drawn }, Area(Rectangle(0, 0, 3000, 2500)));

        Assert.All(drawn.Lines, l => Assert.All(l.Stations.GroupBy(s => s.Cover), g => Assert.Equal(4, g.Count())));
        Assert.Equal(6, drawn.Lines.Select(l => string.Join(' ', l.Stations.Select(s => s.Cover))).Distinct().Count());
    }

    [Fact]
    public void A_former_line_comes_again_under_its_name_and_new_ones_keep_away_from_it()
    {
        var land = Rectangle(0, 0, 2000, 1500);
        var before = Draw(new LayoutRules(3, 8), Area(land));
        var former = before.Lines.Select(l => new FormerLine(l.Name, l.Property, l.Pasture, [l.Flags[0], l.Flags[8]])).ToImmutableArray();

        var drawn = SeasonLayout.Draw(new LayoutRequest([Area(land)], new LayoutRules(6, 8)) { Former = former }, 77, Cancel);

        Assert.Equal(["S1", "S2", "S3", "S4", "S5", "S6"], drawn.Lines.Select(l => l.Name));
        Assert.All(before.Lines.Zip(drawn.Lines), l => Assert.All(l.First.Flags.Zip(l.Second.Flags), f => Assert.True(Offset.Between(f.First, f.Second).DistanceM < 0.1)));
        Assert.Equal([true, true, true, false, false, false], drawn.Lines.Select(l => l.IsFormer));
        Assert.Empty(drawn.Remarks);
        for (var i = 0; i < 6; i++) for (var k = 0; k < i; k++) Assert.True(new Exactly(land).ApartM(drawn.Lines[i].Flags, drawn.Lines[k].Flags) >= 100);
    }

    [Fact]
    public void What_is_odd_about_a_former_line_is_said()
    {
        FormerLine outside = new("old", "Two Windmills", "South", [Plane.Place(100, 100), Plane.Place(-100, 100)]);
        FormerLine elsewhere = new("gone", "Two Windmills", "North", [Plane.Place(0, 0), Plane.Place(400, 0)]);

        var drawn = SeasonLayout.Draw(new LayoutRequest([Area(Rectangle(0, 0, 1000, 1000))], new LayoutRules(2, 8)) { Former = [outside, elsewhere] }, 1, Cancel);

        Assert.Equal(["plan.former_no_pasture", "plan.former_outside", "plan.former_shorter"], drawn.Remarks.Select(r => r.Key));
        Assert.All(drawn.Remarks, r => Assert.NotEmpty(Catalogue.Of("es")!.Say(r)));
        Assert.Equal(5, drawn.Lines.Single(l => l.IsFormer).Stations.Length);
    }

    [Theory]
    [InlineData(0, 8)]
    [InlineData(2, 0)]
    [InlineData(201, 8)]
    public void Numbers_outside_their_range_are_refused(int lines, int stations) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => Draw(new LayoutRules(lines, stations), Area(Rectangle(0, 0, 500, 500))));

    [Fact]
    public void Every_shape_has_all_its_stations_a_stretch_apart_and_nowhere_two_at_one_place()
    {
        for (var stations = 1; stations <= 24; stations++)
        {
            foreach (var shape in CourseShape.WithCorners(stations).Prepend(CourseShape.Straight(stations)))
            {
                var flags = shape.Flags(new Spot(0, 0), 40, 37.5).ToArray();
                Assert.Equal(stations + 1, flags.Length);
                for (var i = 1; i < flags.Length; i++) Assert.Equal(37.5, Gap.ToPiece(flags[i], flags[i - 1], flags[i - 1]), 1e-6);
                for (var i = 1; i < flags.Length; i++) for (var k = 1; k < i; k++) Assert.True(Gap.ToPiece(flags[i], flags[k], flags[k]) > 37.4, $"{shape.Form} of {stations}: {k} and {i}");
            }
        }
    }
}

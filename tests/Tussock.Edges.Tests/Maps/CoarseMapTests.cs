using System.Text;
using Tussock.Exchange.Calendar;
using Tussock.Exchange.GeoJson;
using Tussock.Exchange.Gpx;
using Tussock.Exchange.Kml;
using Tussock.Exchange.Places;
using Tussock.Exchange.Shapefile;
using Tussock.Land;
using Tussock.Records;
using Tussock.Simulation;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Maps;

/// <summary>A map for others tells the neighbourhood and no more.</summary>
public class CoarseMapTests
{
    private static readonly Season Demo = SeasonReading.Read(DemoSeason.Write(1), out _)!;

    [Fact]
    public void Every_point_of_a_line_stands_at_the_middle_of_one_cell_some_way_from_the_nest()
    {
        var map = CoarseMap.Of(Demo, Catalogue.English);
        var points = InventedMap.Only<MapPoint>(map.Features);
        Assert.NotEmpty(points);
        foreach (var line in points.GroupBy(p => p.Field("transect"))) Assert.Single(line.Select(p => ((MapPoint)p.Shape).At).Distinct());
        Assert.All(points, p => Assert.Equal(((MapPoint)p.Shape).At, CoarseGrid.Middle(((MapPoint)p.Shape).At)));
        Assert.All(map.Features, f => Assert.Equal("yes", f.Field(MapFeature.Coarsened)));
    }

    [Fact]
    public void A_pasture_is_covered_by_its_cells()
    {
        var exact = SeasonMap.Of(Demo, Catalogue.English);
        var coarse = InventedMap.Only<MapArea>(CoarseMap.Of(Demo, Catalogue.English).Features);
        var areas = InventedMap.Only<MapArea>(exact.Features);
        Assert.Equal(areas.Length, coarse.Length);
        for (var i = 0; i < areas.Length; i++)
        {
            var cells = new Boundary([.. ((MapArea)coarse[i].Shape).Pieces.Select(p => p.Outer)]);
            Assert.All(((MapArea)areas[i].Shape).Pieces.SelectMany(p => p.Outer), c => Assert.True(cells.Contains(c) || cells.DistanceM(c) < 1));
            Assert.All(((MapArea)coarse[i].Shape).Pieces.SelectMany(p => p.Outer), c => Assert.Equal(Math.Round(c.Latitude, 2), c.Latitude, 9));
        }
    }

    [Fact]
    public void No_name_of_land_line_or_person_stands_in_any_coarsened_file()
    {
        var map = CoarseMap.Of(Demo, Catalogue.English);
        var texts = new List<string> { CheckCalendar.Of(Demo, false, DateTimeOffset.UnixEpoch, Catalogue.English)! };
        foreach (var write in new Action<MapDocument, Stream>[] { GpxWriter.Write, KmlWriter.Write, GeoJsonWriter.Write })
        {
            using var stream = new MemoryStream();
            write(map, stream);
            texts.Add(Encoding.UTF8.GetString(stream.ToArray()));
        }

        texts.AddRange(ShapefileWriter.Files(map).Select(f => Encoding.Latin1.GetString(f.Bytes.Span)));
        var names = Demo.Pastures.SelectMany(p => new[] { p.Property, p.Name }).Concat(Demo.Transects.Select(t => t.Name)).Append(Demo.Settings.Title).Append(Demo.Settings.Name).Distinct().ToArray();
        foreach (var text in texts) Assert.DoesNotContain(names, n => System.Text.RegularExpressions.Regex.IsMatch(text, @"(?<![\w])" + System.Text.RegularExpressions.Regex.Escape(n) + @"(?![\w])"));
        Assert.All(texts.Take(4), t => Assert.Contains("Coarsened", t, StringComparison.Ordinal));
        Assert.Contains("Coarsened", Encoding.UTF8.GetString(ShapefileWriter.Files(map).Single(f => f.Name == "README.txt").Bytes.Span), StringComparison.Ordinal);
    }

    [Fact]
    public void No_exact_coordinate_stands_in_a_coarsened_file()
    {
        using var stream = new MemoryStream();
        GeoJsonWriter.Write(CoarseMap.Of(Demo, Catalogue.English), stream);
        var text = Encoding.UTF8.GetString(stream.ToArray());
        Assert.All(Demo.Nests.Where(n => n.Flag is not null), n => Assert.DoesNotContain(StrangerText(n.Flag!.Value.Latitude), text, StringComparison.Ordinal));
        Assert.DoesNotMatch(@"\d\.\d{4}", text);
    }

    [Fact]
    public void The_exact_map_has_every_recorded_place()
    {
        var map = SeasonMap.Of(Demo, Catalogue.English);
        var points = InventedMap.Only<MapPoint>(map.Features).Select(p => ((MapPoint)p.Shape).At).ToHashSet();
        Assert.All(Demo.Nests, n => Assert.True((n.Flag is null || points.Contains(n.Flag.Value)) && (n.At is null || points.Contains(n.At.Value))));
        Assert.All(Demo.Transects.Where(t => t.Start is not null), t => Assert.Contains(t.Start!.Value, points));
        Assert.DoesNotContain(map.Features.SelectMany(f => f.Fields), f => f.Name is "note" or "landmarks" or "observer" or "recorder");
    }

    private static string StrangerText(double degrees) => degrees.ToString("R", System.Globalization.CultureInfo.InvariantCulture);
}

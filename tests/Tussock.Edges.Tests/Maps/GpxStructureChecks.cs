using System.Globalization;
using System.Text.Json;
using System.Xml.Linq;
using FsCheck.Xunit;
using Tussock.Exchange.Gpx;
using Tussock.Exchange.Places;
using Tussock.Land;
using Xunit;

namespace Tussock.Edges.Tests.Maps;

/// <summary>Our GPX against the structure of the schema, told in words in <c>tests/checks/gpx-1.1</c>.</summary>
public class GpxStructureChecks
{
    private static readonly JsonElement Structure = JsonDocument.Parse(Checks.Read("gpx-1.1", "structure.json")).RootElement;

    [Property]
    public void Children_stand_in_the_order_of_the_schema_and_places_are_in_bounds(int seed) => Hold(InventedMap.Of(seed));

    [Fact]
    public void The_date_line_is_written_as_minus_180()
    {
        var root = Hold(new MapDocument("edge", "", [new MapFeature("east", new MapPoint(new Position(90, 180)), [])]));
        Assert.Equal("-180", root.Elements().Single(e => e.Name.LocalName == "wpt").Attribute("lon")!.Value);
    }

    [Fact]
    public void A_tiny_longitude_is_written_without_an_exponent()
    {
        var root = Hold(new MapDocument("edge", "", [new MapFeature("middle", new MapPoint(new Position(-1.5e-7, 1.25e-5)), [])]));
        Assert.Equal("0.0000125", root.Elements().Single(e => e.Name.LocalName == "wpt").Attribute("lon")!.Value);
    }

    private static XElement Hold(MapDocument map)
    {
        using var stream = new MemoryStream();
        GpxWriter.Write(map, stream);
        stream.Position = 0;
        var root = XDocument.Load(stream).Root!;
        Assert.Equal(XName.Get("gpx", Structure.GetProperty("namespace").GetString()!), root.Name);
        Assert.Equal("1.1", root.Attribute("version")!.Value);
        foreach (var name in Structure.GetProperty("root_attributes").EnumerateArray()) Assert.NotNull(root.Attribute(name.GetString()!));
        foreach (var element in root.DescendantsAndSelf())
        {
            if (element.Name.NamespaceName != root.Name.NamespaceName) continue;
            if (Structure.GetProperty("children").TryGetProperty(element.Name.LocalName, out var order))
            {
                var allowed = order.EnumerateArray().Select(o => o.GetString()!).ToList();
                var found = element.Elements().Select(e => allowed.IndexOf(e.Name.LocalName)).ToArray();
                Assert.DoesNotContain(-1, found);
                Assert.Equal(found.Order(), found);
            }

            if (element.Attribute("lat") is { } latitude) Assert.InRange(double.Parse(latitude.Value, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture), -90, 90);
            if (element.Attribute("lon") is { } longitude) Assert.True(double.Parse(longitude.Value, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture) is >= -180 and < 180, longitude.Value);
        }

        return root;
    }
}

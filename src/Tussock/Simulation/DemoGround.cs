using System.Text;
using Tussock.Land;
using Tussock.Numerics;
using Tussock.Words;

namespace Tussock.Simulation;

/// <summary>The invented land: two properties cut by fences into blocks, on round numbers of latitude and longitude, no real ranch.</summary>
internal sealed class DemoGround
{
    internal const double StepsBetween = 50;
    private const double BlockEastM = 2100;
    private const double BlockNorthM = 1650;
    private const double FenceM = 60;
    private const int CellsAcross = 4;
    private const int CellsUp = 3;
    private readonly Dictionary<(string Property, int Column, int Row), (double EastM, double NorthM)> corners = [];

    internal DemoGround(Seeded chance)
    {
        foreach (var pasture in DemoPasture.All)
        {
            foreach (var corner in Corners(pasture))
            {
                if (corners.ContainsKey(corner)) continue;
                var shift = (East: FenceM * 0.7 * ((2 * chance.NextUniform()) - 1), North: FenceM * 0.7 * ((2 * chance.NextUniform()) - 1));
                corners.Add(corner, ((corner.Column * BlockEastM) + shift.East, (corner.Row * BlockNorthM) + shift.North));
            }
        }
    }

    /// <summary>The plane of a property.</summary>
    internal static LocalPlane Plane(string property) => new(property == "Two Windmills" ? new Position(27.05, -98.4) : new Position(27, -98.5));

    /// <summary>Start and bearing of a line: one cell of the pasture's grid a line, so that no two come near each other.</summary>
    internal static ((double EastM, double NorthM) Start, double BearingDeg) Line(DemoPasture pasture, int cell, double lengthM, Seeded chance)
    {
        var (cellEast, cellNorth) = ((BlockEastM - (2 * FenceM)) / CellsAcross, (BlockNorthM - (2 * FenceM)) / CellsUp);
        var middle = (
            EastM: (pasture.Block.Column * BlockEastM) + FenceM + (((cell % CellsAcross) + 0.5) * cellEast) + (10 * chance.NextNormal()),
            NorthM: (pasture.Block.Row * BlockNorthM) + FenceM + (((cell / CellsAcross) + 0.5) * cellNorth) + (30 * chance.NextNormal()));
        var bearing = Math.Round(90 + (50 * (chance.NextUniform() - 0.5))) + (chance.NextBelow(2) * 180);
        return (DemoLine.Along(middle, bearing + 180, lengthM / 2), bearing);
    }

    /// <summary>A cell for each line of a pasture, drawn without repetition.</summary>
    internal static int[] Cells(int lines, Seeded chance) => Draw.Without(Enumerable.Range(0, CellsAcross * CellsUp), lines, chance);

    /// <summary>Area of a pasture's polygon in square metres.</summary>
    internal double AreaM2(DemoPasture pasture)
    {
        var ring = Corners(pasture).Select(c => corners[c]).ToArray();
        var twice = 0.0;
        for (var i = 0; i < ring.Length; i++)
        {
            var (a, b) = (ring[i], ring[(i + 1) % ring.Length]);
            twice += (a.EastM * b.NorthM) - (b.EastM * a.NorthM);
        }

        return Math.Abs(twice) / 2;
    }

    /// <summary>The boundaries as GeoJSON text.</summary>
    internal string Boundaries()
    {
        var features = DemoPasture.All.Select(p => "    { \"type\": \"Feature\", \"properties\": { \"property\": \"" + p.Property + "\", \"pasture\": \"" + p.Name + "\" }, \"geometry\": { \"type\": \"Polygon\", \"coordinates\": [[" + Ring(p) + "]] } }");
        return "{\n  \"type\": \"FeatureCollection\",\n  \"features\": [\n" + string.Join(",\n", features) + "\n  ]\n}\n";
    }

    /// <summary>Tracks and water, where no line goes, as GeoJSON text.</summary>
    internal string Zones()
    {
        var plane = Plane("Thirteen Gates");
        var fence = corners[("Thirteen Gates", 1, 1)];
        var text = new StringBuilder("{\n  \"type\": \"FeatureCollection\",\n  \"features\": [\n    { \"type\": \"Feature\", \"properties\": { \"kind\": \"water\", \"name\": \"stock tank\" }, \"geometry\": { \"type\": \"Polygon\", \"coordinates\": [[");
        text.AppendJoin(", ", Enumerable.Range(0, 9).Select(i => DemoLine.Along(fence, i * 45 % 360, 22)).Select(p => Pair(plane.Place(p.EastM, p.NorthM))));
        return text.Append("]] } }\n  ]\n}\n").ToString();
    }

    private string Ring(DemoPasture pasture)
    {
        var plane = Plane(pasture.Property);
        var ring = Corners(pasture).Select(c => corners[c]).ToList();
        ring.Add(ring[0]);
        return string.Join(", ", ring.Select(p => Pair(plane.Place(p.EastM, p.NorthM))));
    }

    private static string Pair(Position place) => "[" + Numbers.Fixed(place.Longitude, 6) + ", " + Numbers.Fixed(place.Latitude, 6) + "]";

    private static (string Property, int Column, int Row)[] Corners(DemoPasture pasture)
    {
        var (property, (column, row)) = (pasture.Property, pasture.Block);
        return [(property, column, row), (property, column + 1, row), (property, column + 1, row + 1), (property, column, row + 1)];
    }
}

namespace Tussock.Land;

/// <summary>A public grid over the earth into which places are blurred: the same place always falls into the same cell, so that many blurred copies tell no more than one.</summary>
/// <remarks>
/// Cells are 0.01° of latitude high (about 1.1 km) and as many hundredths of a degree of longitude wide as give at least 600 m:
/// 0.01° up to about 57° of latitude, wider towards the poles. Rows begin at the south pole, cells at the date line. Nothing is drawn at random.
/// </remarks>
public static class CoarseGrid
{
    private const int RowsADegree = 100;
    private const int Rows = 180 * RowsADegree;
    private const int Around = 360 * RowsADegree;
    private const double LeastWidthDeg = 0.0054;

    /// <summary>Widths of cells in hundredths of a degree; each divides the circle, so that no cell is cut at the date line.</summary>
    private static readonly int[] Widths = [1, 2, 5, 10, 20, 50, 100, 500, 1000, 9000, 36000];

    /// <summary>The middle of the cell in which a place lies.</summary>
    /// <param name="place">A place; longitudes of any turn.</param>
    /// <returns>The middle, to a hundredth of a degree and a half.</returns>
    public static Position Middle(Position place)
    {
        var row = Row(place.Latitude);
        var width = Width(row);
        var cell = Cell(place.Longitude, width);
        return new Position(Latitude(row + 0.5), Longitude((cell + 0.5) * width));
    }

    /// <summary>The corners of the cells that cover a rectangle of land: south-west and north-east.</summary>
    /// <param name="south">Least latitude.</param>
    /// <param name="west">Least longitude, at most <paramref name="east"/>.</param>
    /// <param name="north">Greatest latitude.</param>
    /// <param name="east">Greatest longitude.</param>
    /// <returns>Corners on the lines of the grid, the rectangle within.</returns>
    public static (Position SouthWest, Position NorthEast) Cover(double south, double west, double north, double east)
    {
        var (low, high) = (Row(south), Row(north));
        var width = Math.Max(Width(low), Width(high));
        return (new Position(Latitude(low), Longitude(Cell(west, width) * (double)width)), new Position(Latitude(high + 1), Longitude((Cell(east, width) + 1.0) * width)));
    }

    /// <summary>How far a place may lie from the middle of its cell: whole metres, to the farthest corner.</summary>
    /// <param name="middle">Middle of a cell.</param>
    public static double ReachM(Position middle)
    {
        var (low, high) = Cover(middle.Latitude, middle.Longitude, middle.Latitude, middle.Longitude);
        var plane = new LocalPlane(middle);
        return Math.Ceiling(new[] { low, high }.Max(c => Math.Sqrt(Math.Pow(plane.Metres(c).EastM, 2) + Math.Pow(plane.Metres(c).NorthM, 2))));
    }

    // A place on a line of the grid, written in decimals, must not fall into either cell by its last binary digit.
    private static int Row(double latitude) => Math.Clamp((int)Math.Floor(Math.Round((latitude + 90) * RowsADegree, 7)), 0, Rows - 1);

    private static int Cell(double longitude, int width)
    {
        var turned = longitude is >= -180 and <= 180 ? longitude : Math.IEEERemainder(longitude, 360);
        return Math.Clamp((int)Math.Floor(Math.Round((turned + 180) * RowsADegree / width, 7)), 0, (Around / width) - 1);
    }

    private static int Width(int row)
    {
        var shrink = Math.Cos(Math.Abs(((row + 0.5) / RowsADegree) - 90) * Math.PI / 180);
        foreach (var width in Widths) if (width * shrink / RowsADegree >= LeastWidthDeg) return width;
        return Around;
    }

    private static double Latitude(double rows) => Math.Round((rows / RowsADegree) - 90, 3);

    private static double Longitude(double hundredths) => Math.Round((hundredths / RowsADegree) - 180, 3);
}

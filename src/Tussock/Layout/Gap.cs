namespace Tussock.Layout;

/// <summary>Distances between points and straight pieces on the plane.</summary>
/// <remarks>Differences are formed before products, so that the error of a distance stays below a thousandth of a millimetre within 100 km of the middle; whoever compares keeps a margin of centimetres.</remarks>
internal static class Gap
{
    /// <summary>Metres between two straight pieces; 0 when they cross or touch.</summary>
    internal static double Of(Spot a, Spot b, Spot c, Spot d) =>
        Cross(a, b, c, d) ? 0 : Math.Min(Math.Min(ToPiece(a, c, d), ToPiece(b, c, d)), Math.Min(ToPiece(c, a, b), ToPiece(d, a, b)));

    /// <summary>Metres from a point to a straight piece, which may be a point itself.</summary>
    internal static double ToPiece(Spot point, Spot from, Spot to)
    {
        var (east, north) = (to.EastM - from.EastM, to.NorthM - from.NorthM);
        var (pointEast, pointNorth) = (point.EastM - from.EastM, point.NorthM - from.NorthM);
        var squared = (east * east) + (north * north);
        var share = squared == 0 ? 0 : Math.Clamp(((pointEast * east) + (pointNorth * north)) / squared, 0, 1);
        return Length(pointEast - (share * east), pointNorth - (share * north));
    }

    private static double Length(double east, double north) => Math.Sqrt((east * east) + (north * north));

    private static bool Cross(Spot a, Spot b, Spot c, Spot d) =>
        Side(a, b, c) * Side(a, b, d) < 0 && Side(c, d, a) * Side(c, d, b) < 0;

    private static int Side(Spot from, Spot to, Spot point) =>
        Math.Sign(((to.EastM - from.EastM) * (point.NorthM - from.NorthM)) - ((to.NorthM - from.NorthM) * (point.EastM - from.EastM)));
}

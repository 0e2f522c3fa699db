namespace Tussock.Layout;

/// <summary>A point of the plane of a layout.</summary>
/// <param name="EastM">Metres east of the middle.</param>
/// <param name="NorthM">Metres north of the middle.</param>
internal readonly record struct Spot(double EastM, double NorthM)
{
    /// <summary>The point so many metres along a bearing.</summary>
    internal Spot Along(double bearingDeg, double metres)
    {
        var way = Land.Offset.Along(bearingDeg, metres);
        return new Spot(EastM + way.EastM, NorthM + way.NorthM);
    }
}

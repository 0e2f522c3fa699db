namespace Tussock.Wayfinding;

/// <summary>The earth's magnetic field at a place and time.</summary>
/// <param name="NorthNt">Component towards true north, nT.</param>
/// <param name="EastNt">Component towards east, nT.</param>
/// <param name="DownNt">Component downwards, nT.</param>
/// <remarks>May be shared between threads.</remarks>
public readonly record struct MagneticField(double NorthNt, double EastNt, double DownNt)
{
    /// <summary>Horizontal strength in nT: what turns a compass needle.</summary>
    public double HorizontalNt => Math.Sqrt((NorthNt * NorthNt) + (EastNt * EastNt));

    /// <summary>Strength in nT.</summary>
    public double TotalNt => Math.Sqrt((HorizontalNt * HorizontalNt) + (DownNt * DownNt));

    /// <summary>Degrees from true north to magnetic north, east positive; (−180, 180].</summary>
    public double DeclinationDeg => Math.Atan2(EastNt, NorthNt) * 180 / Math.PI;

    /// <summary>Degrees by which the needle dips below the horizon, [−90, 90].</summary>
    public double InclinationDeg => Math.Atan2(DownNt, HorizontalNt) * 180 / Math.PI;
}

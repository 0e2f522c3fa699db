using System.Collections.Immutable;

namespace Tussock.Layout;

/// <summary>The smallest of the rectangles round a piece of land that are turned by whole steps of 2.5°: a long strip that lies askew fills it as well as any other.</summary>
internal sealed class Frame
{
    private const int Turns = 36;
    private const double TurnDeg = 2.5;
    private readonly double sine, cosine, left, low, wide, high;

    private Frame(double turnDeg, IReadOnlyCollection<Spot> spots)
    {
        (sine, cosine) = Math.SinCos(turnDeg * Math.PI / 180);
        (left, low) = (spots.Min(Across), spots.Min(Up));
        (wide, high) = (spots.Max(Across) - left, spots.Max(Up) - low);
    }

    /// <summary>The frame round the corners of some rings.</summary>
    internal static Frame Round(IEnumerable<ImmutableArray<Spot>> rings)
    {
        var spots = rings.SelectMany(r => r).ToArray();
        return Enumerable.Range(0, Turns).Select(i => new Frame(i * TurnDeg, spots)).MinBy(f => f.wide * f.high)!;
    }

    /// <summary>Area of the rectangle in square metres.</summary>
    internal double AreaM2 => wide * high;

    /// <summary>Metres from corner to corner: nothing longer lies in it.</summary>
    internal double DiagonalM => Math.Sqrt((wide * wide) + (high * high));

    /// <summary>The point at so much of the two sides.</summary>
    internal Spot At((double X, double Y) share)
    {
        var (across, up) = (left + (share.X * wide), low + (share.Y * high));
        return new Spot((across * cosine) - (up * sine), (across * sine) + (up * cosine));
    }

    private double Across(Spot s) => (s.EastM * cosine) + (s.NorthM * sine);

    private double Up(Spot s) => (s.NorthM * cosine) - (s.EastM * sine);
}

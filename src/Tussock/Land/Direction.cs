using System.Collections.Frozen;

namespace Tussock.Land;

/// <summary>A direction as it is written in the field: one of 16 compass points, or degrees.</summary>
/// <param name="Degrees">Degrees clockwise from north, [0, 360).</param>
/// <param name="IsPoint">Whether it was written as a compass point, so that it is true to half a point (11.25°) only.</param>
public readonly record struct Direction(double Degrees, bool IsPoint)
{
    private static readonly string[] Points = ["N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW"];
    private static readonly FrozenDictionary<string, int> ByName = Points.Select((name, i) => (name, i)).ToFrozenDictionary(p => p.name, p => p.i, StringComparer.OrdinalIgnoreCase);

    /// <summary>The opposite direction.</summary>
    public Direction Back => new((Degrees + 180) % 360, IsPoint);

    /// <summary>Name of the nearest of the 16 points of 22.5°.</summary>
    public string Point => Points[(int)Math.Floor((Degrees / 22.5) + 0.5) % 16];

    /// <summary>Reads a compass point in any case, or degrees in [0, 360]; null when it is neither.</summary>
    public static Direction? Parse(string text)
    {
        var trimmed = text.Trim();
        if (ByName.TryGetValue(trimmed, out var point)) return new Direction(point * 22.5, true);
        var number = trimmed.EndsWith('°') ? trimmed[..^1] : trimmed;
        return double.TryParse(number, System.Globalization.NumberStyles.Float, System.Globalization.CultureInfo.InvariantCulture, out var degrees) && degrees is >= 0 and <= 360
            ? new Direction(degrees % 360, false)
            : null;
    }
}

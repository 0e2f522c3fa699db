namespace Tussock.Land;

/// <summary>A place on the earth, WGS 84.</summary>
/// <param name="Latitude">Degrees north, [−90, 90].</param>
/// <param name="Longitude">Degrees east, [−180, 180].</param>
public readonly record struct Position(double Latitude, double Longitude);

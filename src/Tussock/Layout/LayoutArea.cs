using System.Collections.Immutable;
using Tussock.Land;

namespace Tussock.Layout;

/// <summary>A piece of land that gets lines of its own: a pasture, or one stratum of it.</summary>
/// <param name="Property">Property.</param>
/// <param name="Pasture">Pasture.</param>
/// <param name="Stratum">Stratum (ecological site, treatment); empty when the pasture has none.</param>
/// <param name="Boundary">Its rings, WGS 84; holes and separate pieces are rings too.</param>
public sealed record LayoutArea(string Property, string Pasture, string Stratum, Boundary Boundary);

/// <summary>Land, a road or water from which lines keep away.</summary>
/// <param name="Name">What it is, for people.</param>
/// <param name="IsArea">Whether the paths are closed rings whose inside is kept out too.</param>
/// <param name="Paths">Rings, lines of two points or more, or single points.</param>
/// <param name="KeepM">Metres that a line keeps away, 0 or more.</param>
public sealed record LayoutZone(string Name, bool IsArea, ImmutableArray<ImmutableArray<Position>> Paths, double KeepM);

/// <summary>A line of a former year that is taken up again.</summary>
/// <param name="Name">Its lasting name.</param>
/// <param name="Property">Property.</param>
/// <param name="Pasture">Pasture.</param>
/// <param name="Path">Start flag, then the places through which it goes: flags or its end; two places at least.</param>
public sealed record FormerLine(string Name, string Property, string Pasture, ImmutableArray<Position> Path);

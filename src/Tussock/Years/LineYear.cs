namespace Tussock.Years;

/// <summary>What one line counts for in one season: its nests of known fate and its clumps.</summary>
/// <param name="Line">Lasting name of the flag line, by which the same ground is known in another season; null where the line has none, so that it is paired with no other.</param>
/// <param name="Name">Name of the line in its season.</param>
/// <param name="Survived">Nests that survived to the end of the trial.</param>
/// <param name="Known">Nests of known fate.</param>
/// <param name="Clumps">Clumps counted, of the classes that count; 0 without a belt.</param>
/// <param name="AreaM2">Area looked at, m²; 0 without a belt.</param>
public readonly record struct LineYear(string? Line, string Name, int Survived, int Known, double Clumps, double AreaM2);

using Tussock.Records;

namespace Tussock.Desk;

/// <summary>The form of one pasture's boundary.</summary>
/// <param name="Pasture">The pasture.</param>
/// <param name="Corners">Its corners as text: latitude, longitude, one corner a line; an empty line between rings.</param>
/// <param name="Shown">The corners that stood there when the form was made: whoever saves after somebody else is told.</param>
/// <param name="Wrong">What keeps the text from being taken; empty when nothing does.</param>
/// <param name="IsSaved">Whether it has just been saved.</param>
public sealed record BoundaryForm(Pasture Pasture, string Corners, string Shown, System.Collections.Immutable.ImmutableArray<Phrase> Wrong, bool IsSaved);

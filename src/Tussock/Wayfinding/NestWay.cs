using System.Collections.Immutable;
using Tussock.Land;
using Tussock.Records;

namespace Tussock.Wayfinding;

/// <summary>A place where a nest may lie, and the way there.</summary>
/// <param name="Sense">The sense in which the way was taken if the nest lies here; not written where only a satellite's position is known.</param>
/// <param name="Legs">The way from the flag, its last leg leading to the middle of the search area; empty where there are no steps.</param>
/// <param name="Area">Where to look.</param>
/// <param name="IsTrue">Whether <see cref="Area"/> counts from true north; else from the compass's, because the declination is not known.</param>
/// <param name="At">The place on the earth; null where the flag's is not known or north is not.</param>
/// <param name="IsWeighted">Whether a satellite's position moved the place.</param>
public sealed record WayPlace(DirectionSense Sense, ImmutableArray<Leg> Legs, SearchArea Area, bool IsTrue, Position? At, bool IsWeighted);

/// <summary>The way back to a nest.</summary>
/// <param name="Nest">The nest.</param>
/// <param name="Places">Where it may lie, the first to look at first; empty where nothing was written.</param>
/// <param name="IsTrueNorth">Whether the directions of the legs count from true north; else from the compass's.</param>
/// <param name="Why">Why there is no way, or what to know about this one; null where there is nothing to say.</param>
/// <remarks>May be shared between threads.</remarks>
public sealed record NestWay(Nest Nest, ImmutableArray<WayPlace> Places, bool IsTrueNorth, Phrase? Why);

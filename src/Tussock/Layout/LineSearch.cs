using System.Collections.Immutable;
using Tussock.Land;
using Tussock.Numerics;

namespace Tussock.Layout;

/// <summary>A line that was found: its shape and where it goes.</summary>
internal sealed record FoundLine(CourseShape Shape, int BearingDeg, ImmutableArray<Position> Flags);

/// <summary>What a search came to.</summary>
/// <param name="Lines">The lines, in the order in which they were drawn.</param>
/// <param name="HasStarts">Whether any point was a place for a start.</param>
/// <param name="HasRoom">Whether any line lay inside, near to others or not.</param>
internal sealed record Searched(ImmutableArray<FoundLine> Lines, bool HasStarts, bool HasRoom);

/// <summary>Looks for lines on a piece of land: balanced starts one after another, for each the bearings that were drawn until a line lies inside and apart from all others.</summary>
/// <remarks>
/// A start whose straight lines all leave the land tries lines with corners; one whose straight lines only come too near to others is passed over. When the
/// lines asked for don't find room, the search begins anew with another random start, several times, and the fullest is taken.
/// </remarks>
internal sealed class LineSearch(Ground ground, LayoutRules rules, IReadOnlyList<ImmutableArray<Position>> others, ulong seed, CancellationToken cancel)
{
    private const int MostAttempts = 6;

    /// <summary>Below this share of the lines asked for another random start does not bring the rest.</summary>
    private const double Hopeless = 0.7;

    /// <summary>Lines up to which each gets 30 starts to try; the land of more is crowded, and what is left to find is little.</summary>
    private const int MostPatient = 20;

    /// <summary>Points after which land without a single place for a start is given up.</summary>
    private const int MostWithoutStart = 5_000;
    private const int StraightBearings = 16;
    private const int BearingsOfCorners = 8;

    /// <summary>Has no divisor in common with 360, so that bearings go all the way round before one comes again; near the golden angle, so that neighbours in the list lie far apart.</summary>
    private const int NextBearingDeg = 137;
    private readonly CourseShape straight = CourseShape.Straight(rules.Stations);
    private readonly CourseShape[] withCorners = rules is { MayBend: true, GradientDeg: null } ? [.. CourseShape.WithCorners(rules.Stations).Where(s => s.ExtentM(rules.BetweenM) <= ground.Frame.DiagonalM)] : [];
    private readonly bool isTooLong = rules.Stations * rules.BetweenM > ground.Frame.DiagonalM;
    private readonly double separationM = ground.Plane.AtLeast(rules.SeparationM) + Ground.MarginM;
    private bool hasStarts, hasRoom;

    /// <summary>Looks for so many lines.</summary>
    /// <param name="count">How many.</param>
    /// <param name="attempts">Random starts that are tried until all are found.</param>
    internal Searched For(int count, int attempts = MostAttempts)
    {
        var best = ImmutableArray<FoundLine>.Empty;
        if (ground.IsLand && ground.IsFlatEnough)
        {
            for (var attempt = 0; attempt < attempts && best.Length < count && (hasRoom || attempt == 0); attempt++)
            {
                var found = Attempt(count, Seeded.Of(seed, (ulong)attempt));
                if (found.Count > best.Length) best = [.. found];
                if (best.Length < Hopeless * count) break;
            }
        }

        return new Searched(best, hasStarts, hasRoom);
    }

    private List<FoundLine> Attempt(int count, Seeded chance)
    {
        var found = new List<FoundLine>();
        var lines = others.Select(OnPlane).ToList();
        var taken = EdgeSet.OfLines(lines);
        var sequence = BalancedAcceptance.Draw(chance, share => ground.Holds(ground.Frame.At(share)));
        var left = 150 + (30 * Math.Min(count, MostPatient)) + count;
        for (var number = 0; number < 20_000 + (2_000 * count) && left > 0 && found.Count < count; number++)
        {
            if (number == MostWithoutStart && !hasStarts) break;
            if (!ground.Holds(ground.Frame.At(sequence.Point(number)))) continue;
            cancel.ThrowIfCancellationRequested();
            var start = Rounded(ground.Frame.At(sequence.Point(number)));
            if (!ground.Holds(start)) continue;
            (hasStarts, left) = (true, left - 1);
            if (From(start, taken, chance) is not { } line) continue;
            found.Add(line);
            lines.Add(OnPlane(line.Flags));
            taken = EdgeSet.OfLines(lines);
        }

        return found;
    }

    /// <summary>The first line from a start that has room; null when none has. The chance that it uses up does not hang on what lies around.</summary>
    private FoundLine? From(Spot start, EdgeSet taken, Seeded chance)
    {
        var first = rules.GradientDeg is { } along ? along + (180 * chance.NextBelow(2)) : chance.NextBelow(360);
        var isInside = false;
        for (var i = 0; !isTooLong && i < (rules.GradientDeg is null ? StraightBearings : 2); i++)
        {
            var bearing = (first + (i * (rules.GradientDeg is null ? NextBearingDeg : 180))) % 360;
            var corners = straight.Corners(start, bearing, rules.BetweenM);
            if (!ground.HoldsLine(corners)) continue;
            (isInside, hasRoom) = (true, true);
            if (IsApart(corners, taken)) return Found(straight, start, bearing);
        }

        return isInside ? null : Cornered(start, first, taken);
    }

    private FoundLine? Cornered(Spot start, int first, EdgeSet taken)
    {
        foreach (var shape in withCorners)
        {
            for (var i = 0; i < BearingsOfCorners; i++)
            {
                var bearing = (first + (i * NextBearingDeg)) % 360;
                var corners = shape.Corners(start, bearing, rules.BetweenM);
                if (!ground.HoldsLine(corners)) continue;
                hasRoom = true;
                if (IsApart(corners, taken)) return Found(shape, start, bearing);
            }
        }

        return null;
    }

    private FoundLine Found(CourseShape shape, Spot start, int bearing) => new(shape, bearing, [.. shape.Flags(start, bearing, rules.BetweenM).Select(ground.Plane.Place)]);

    private bool IsApart(ReadOnlySpan<Spot> corners, EdgeSet taken)
    {
        for (var i = 1; i < corners.Length; i++) if (taken.IsNear(corners[i - 1], corners[i], separationM)) return false;
        return true;
    }

    private ImmutableArray<Spot> OnPlane(ImmutableArray<Position> flags) => [.. flags.Select(ground.Plane.At)];

    private Spot Rounded(Spot spot) => ground.Plane.At(ground.Plane.Place(spot));
}

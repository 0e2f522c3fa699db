using System.Collections.Frozen;
using Tussock.Land;
using Tussock.Records;

namespace Tussock.Review;

/// <summary>A position outside the boundary of its pasture, by more than positions are off.</summary>
internal static class OutsidePasture
{
    private const double LeastM = 10;

    internal static void Look(Inspection on)
    {
        if (!on.Season.Tables.Texts.ContainsKey(SeasonBoundaries.File)) return;
        var read = SeasonBoundaries.Of(on.Season.Tables);
        if (!read.HasValue)
        {
            on.Add("boundaries_unreadable", Severity.Odd, new Place(SeasonBoundaries.File), ("why", read.Why));
            return;
        }

        foreach (var pasture in on.Season.Pastures)
        {
            if (!read.Value.ContainsKey((pasture.Property, pasture.Name))) on.Add("boundary_missing", Severity.Note, pasture.Source.Place(), ("property", pasture.Property), ("pasture", pasture.Name));
        }

        Transects(on, read.Value);
        Nests(on, read.Value);
    }

    private static void Transects(Inspection on, FrozenDictionary<(string Property, string Pasture), Boundary> boundaries)
    {
        foreach (var transect in on.Season.Transects)
        {
            if (boundaries.GetValueOrDefault((transect.Pasture.Property, transect.Pasture.Name)) is not { } boundary) continue;
            foreach (var (position, column) in new[] { (transect.Start, "start_lat"), (transect.End, "end_lat") })
            {
                if (position is { } place && Outside(boundary, place, LeastM) is { } outside)
                    on.Add("outside_pasture", outside.Rank, transect.Source.Place(column), transect, ("pasture", transect.Pasture.Name), ("metres", outside.Far), ("hint", outside.Hint));
            }
        }
    }

    private static void Nests(Inspection on, FrozenDictionary<(string Property, string Pasture), Boundary> boundaries)
    {
        var accuracy = new RowCells(on.Season, RecordKind.Nests, "gps_accuracy_m");
        foreach (var nest in on.Season.Nests)
        {
            if ((nest.At is null && nest.Flag is null) || boundaries.GetValueOrDefault((nest.Transect.Pasture.Property, nest.Transect.Pasture.Name)) is not { } boundary) continue;
            var allowed = Math.Max(LeastM, 2 * (accuracy.Number(nest.Source) ?? 0));
            foreach (var (position, column) in new[] { (nest.Flag, "flag_lat"), (nest.At, "nest_lat") })
            {
                if (position is { } place && Outside(boundary, place, allowed) is { } outside)
                    on.Add("outside_pasture", outside.Rank, nest.Source.Place(column), nest, ("pasture", nest.Transect.Pasture.Name), ("metres", outside.Far), ("hint", outside.Hint));
            }
        }
    }

    private static (Rank Rank, Phrase Far, Phrase Hint)? Outside(Boundary boundary, Position place, double allowedM)
    {
        if (boundary.Contains(place)) return null;
        var far = boundary.DistanceM(place);
        if (far <= allowedM) return null;
        var hint = Hint(boundary, place);
        var rank = new Rank(hint is null ? Severity.Odd : Severity.Contradiction, Math.Min(far / 100, 10));
        return (rank, Distances.Said(far), Phrase.Of(hint ?? "review.hint_none"));
    }

    private static string? Hint(Boundary boundary, Position place)
    {
        var swapped = new Position(place.Longitude, place.Latitude);
        if (boundary.Contains(swapped) || boundary.Contains(swapped with { Longitude = -swapped.Longitude })) return "review.hint_swapped";
        return boundary.Contains(place with { Longitude = -place.Longitude }) ? "review.hint_sign" : null;
    }
}

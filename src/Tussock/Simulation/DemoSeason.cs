using System.Collections.Immutable;
using Tussock.Numerics;
using Tussock.Records;

namespace Tussock.Simulation;

/// <summary>The built-in season: invented land, invented people, invented nests, with records as messy as real ones, but legal.</summary>
/// <remarks>
/// Five pastures of one property show the four verdicts and "not settled"; a second property of four lines of six nests (whole after 28 days
/// 5, 4, 3 and 1) is judged as a whole. How many nests end in which way is fixed, so that every seed tells the same story; chance decides
/// which nests, when, and where. Nothing in it happened, and its places are round numbers of latitude and longitude, no ranch.
/// </remarks>
public static class DemoSeason
{
    /// <summary>Writes the season of a seed.</summary>
    /// <param name="seed">Any number; the built-in season is that of 1.</param>
    /// <returns>Tables and boundaries; the same for the same seed, on every machine of one kind.</returns>
    public static SeasonTables Write(ulong seed)
    {
        var ground = new DemoGround(Seeded.Of(seed, 1));
        var lines = DemoLines.SetOut(Seeded.Of(seed, 2));
        DemoEnds.Decide(lines, Seeded.Of(seed, 3));
        var cameras = new DemoCameras(Seeded.Of(seed, 4)).Tables(lines);
        ImmutableArray<RecordTable> tables =
        [
            DemoLand.Pastures(ground),
            DemoLand.Transects(lines, Seeded.Of(seed, 5)),
            DemoNests.Table(lines, Seeded.Of(seed, 6)),
            new DemoVisits(Seeded.Of(seed, 7)).Table(lines),
            DemoSigns.Table(lines, Seeded.Of(seed, 8)),
            cameras.Events,
            cameras.Deployments,
            new DemoBelts(Seeded.Of(seed, 9)).Table(lines),
            DemoLand.Crew(Seeded.Of(seed, 10)),
            DemoLand.Events(),
        ];
        var texts = ImmutableSortedDictionary<string, string>.Empty.WithComparers(StringComparer.Ordinal)
            .Add(SeasonBoundaries.File, ground.Boundaries())
            .Add("zones.geojson", ground.Zones());
        return new SeasonTables(DemoPackage.Of(seed, tables), tables, texts);
    }
}

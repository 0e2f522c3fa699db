using Tussock.Numerics;
using Tussock.Records;
using static Tussock.Simulation.DemoText;

namespace Tussock.Simulation;

/// <summary>The table of visits of an invented season, with the slips that real records have.</summary>
internal sealed class DemoVisits(Seeded chance)
{
    private readonly RowsOf rows = new(RecordKind.Visits, "transect", "nest", "visited_on", "visited_at", "finding", "eggs_intact", "eggs_refreshed", "observer", "note", "purpose", "cause",
        "eggs_broken", "eggs_missing", "eggs_spoiled", "washer", "bowl", "flag", "search_minutes", "not_found_because");

    internal RecordTable Table(IReadOnlyList<DemoLine> lines)
    {
        foreach (var nest in lines.SelectMany(l => l.Nests).Where(n => n.IsSet)) Visits(nest);
        return rows.Table();
    }

    /// <summary>The nest that nobody went back to.</summary>
    private static bool IsForgotten(DemoNest nest, DemoNest? firstNotFound) => nest == firstNotFound && nest.Line.Pasture.Name == "Mill Pasture";

    private void Visits(DemoNest nest)
    {
        var (first, second) = nest.Line.Checks;
        if (nest is { Line.Name: "N1", Number: 1 }) Add(nest, 0, ("finding", "intact"), ("eggs_intact", "3"), ("purpose", "check"), ("note", "looked again before leaving"));
        if (first > 0)
        {
            if (nest.EndSeenOn == first)
            {
                Ended(nest, first);
                if (IsWrongNest(nest)) Whole(nest, second, "no");
                return;
            }

            Whole(nest, first, "yes");
        }

        if (nest.End == DemoEnd.NotFound) NotFound(nest, second);
        else if (nest.EndSeenOn == second) Ended(nest, second);
        else if (nest.IsHardToFind) SecondSearch(nest, second);
        else Whole(nest, second, "no");
    }

    /// <summary>One lost nest is written as whole two weeks later: somebody stood at the neighbour.</summary>
    private static bool IsWrongNest(DemoNest nest) =>
        nest.Line.Pasture.Name == "Old Field" && nest == nest.Line.Nests.First(n => n.EndSeenOn > 0) && nest.Line.Number == 2 && nest.End == DemoEnd.Eaten;

    private void Whole(DemoNest nest, int day, string refreshed) =>
        Add(nest, day, ("finding", "intact"), ("eggs_intact", "3"), ("eggs_refreshed", refreshed), ("purpose", "check"), ("washer", "in_bowl"), ("bowl", "as_set"), ("flag", "standing"));

    private void NotFound(DemoNest nest, int day)
    {
        if (IsForgotten(nest, nest.Line.Nests.Find(n => n.End == DemoEnd.NotFound))) return;
        var because = Draw.One<string>(["searched_all", "ran_out_of_time", "flag_gone", "clump_gone"], chance);
        Add(nest, day, ("finding", "not_relocated"), ("purpose", "check"), ("washer", "not_found"), ("flag", because == "flag_gone" ? "gone" : "standing"), ("search_minutes", Of(6 + chance.NextBelow(15))), ("not_found_because", because));
    }

    private void SecondSearch(DemoNest nest, int day)
    {
        Add(nest, day, ("finding", "not_relocated"), ("purpose", "check"), ("washer", "not_found"), ("flag", "standing"), ("search_minutes", "10"), ("not_found_because", "ran_out_of_time"));
        Add(nest, day + 1, ("finding", "intact"), ("eggs_intact", "3"), ("eggs_refreshed", "no"), ("purpose", "second_search"), ("washer", "in_bowl"), ("bowl", "as_set"), ("flag", "standing"), ("note", "under the next clump"));
    }

    private void Ended(DemoNest nest, int day)
    {
        switch (nest.End)
        {
            case DemoEnd.Eaten:
                var left = chance.NextUniform() < 0.1 ? 1 : 0;
                Add(nest, day, ("finding", "depredated"), ("eggs_intact", Of(left)), ("eggs_missing", Of(3 - left)), ("purpose", "check"), ("washer", chance.NextUniform() < 0.7 ? "in_bowl" : "moved"), ("bowl", "disturbed"), ("flag", "standing"));
                break;
            case DemoEnd.Trampled:
                Add(nest, day, ("finding", "other_loss"), ("cause", "trampled"), ("eggs_intact", "0"), ("eggs_broken", "3"), ("purpose", "check"), ("washer", "in_bowl"), ("bowl", "disturbed"), ("flag", chance.NextUniform() < 0.7 ? "standing" : "down"), ("note", "hoof print in the bowl"));
                break;
            case DemoEnd.Flooded:
                Add(nest, day, ("finding", "other_loss"), ("cause", "flooded"), ("eggs_intact", "0"), ("eggs_missing", "3"), ("purpose", "check"), ("washer", "moved"), ("bowl", "gone"), ("flag", "down"), ("note", "drift line above the flag"));
                break;
            default:
                Add(nest, day, ("finding", "other_loss"), ("cause", "spoiled_in_place"), ("eggs_spoiled", "3"), ("purpose", "check"), ("washer", "in_bowl"), ("bowl", "as_set"), ("flag", "standing"), ("note", "cracked and leaking, no holes"));
                break;
        }
    }

    private void Add(DemoNest nest, int day, params ReadOnlySpan<(string, string)> cells)
    {
        var minutes = DemoNests.SetMinutes(nest) + (day == 0 ? 15 : 40 * (chance.NextUniform() - 0.5));
        var other = nest.Line.Walker == DemoWalker.One ? DemoWalker.Two : DemoWalker.One;
        var observer = day > 0 && nest.Line.Number % 3 == 0 ? other : nest.Line.Walker;
        rows.Add([("transect", nest.Line.Name), ("nest", Of(nest.Number)), ("visited_on", Of(nest.Line.SetOn.AddDays(day))), ("visited_at", nest.Line.Pasture.HasTimes ? Clock(minutes) : ""), ("observer", observer.Name), .. cells]);
    }
}

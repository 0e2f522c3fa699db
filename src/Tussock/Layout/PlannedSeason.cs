using System.Collections.Immutable;
using Tussock.Land;
using Tussock.Records;
using Tussock.Words;

namespace Tussock.Layout;

/// <summary>Makes the records of a layout: lines and stations that are planned and not set out.</summary>
public static class PlannedSeason
{
    private const int Decimals = 7;

    /// <summary>The tables of a planned season: its pastures as they are, its lines, their stations, and no visit yet.</summary>
    /// <param name="drawn">The layout.</param>
    /// <param name="rules">What was asked of it.</param>
    /// <param name="land">Description, table of pastures and texts of the season to be; other tables in it stay behind the planned ones.</param>
    /// <param name="words">Language of the notes at lines.</param>
    /// <returns>Tables without a date of set-out; places of flags have <c>position_source</c> planned, covers stand in <c>class_due</c> alone, because nothing has been set in any.</returns>
    public static SeasonTables Tables(DrawnLayout drawn, LayoutRules rules, SeasonTables land, Catalogue words)
    {
        ImmutableArray<RecordTable> planned = [Transects(drawn, rules, words), Nests(drawn), new RowsOf(RecordKind.Visits, "transect", "nest", "visited_on", "visited_at", "finding", "eggs_intact", "observer", "note").Table()];
        return land with { Tables = [.. RecordKind.All.Select(k => Array.Find([.. planned], t => t.Kind == k) ?? land.Table(k)).OfType<RecordTable>()] };
    }

    /// <summary>How a line runs, in words.</summary>
    public static Phrase Way(PlannedLine line) => line.Form switch
    {
        LineForm.Straight => Phrase.Of("plan.straight", ("bearing", line.BearingTrueDeg)),
        LineForm.Former => Phrase.Of("plan.former", ("bearing", line.BearingTrueDeg)),
        _ => Phrase.Of(line.Form == LineForm.Loop ? "plan.loop" : "plan.bent", ("bearing", line.BearingTrueDeg), ("corners", line.Corners.Select(c => Phrase.Of("plan.corner", ("flag", c.Flag), ("bearing", c.BearingTrueDeg))).ToArray())),
    };

    private static RecordTable Transects(DrawnLayout drawn, LayoutRules rules, Catalogue words)
    {
        var rows = new RowsOf(RecordKind.Transects, "property", "pasture", "transect", "set_on", "observer", "start_lat", "start_lon", "bearing_true_deg", "step_m", "steps_between", "line", "end_lat", "end_lon", "stratum", "note");
        foreach (var line in drawn.Lines)
        {
            var (start, end) = (line.Flags[0], line.Flags[^1]);
            rows.Add(("property", line.Property), ("pasture", line.Pasture), ("transect", line.Name), ("start_lat", Of(start.Latitude)), ("start_lon", Of(start.Longitude)), ("bearing_true_deg", Numbers.Whole(line.BearingTrueDeg)),
                ("step_m", Numbers.Short(rules.StepM)), ("steps_between", Numbers.Fixed(rules.StepsBetween, 0)), ("line", line.Name), ("end_lat", Of(end.Latitude)), ("end_lon", Of(end.Longitude)), ("stratum", line.Stratum),
                ("note", line.Corners.IsEmpty ? "" : words.Say(Way(line))));
        }

        return rows.Table();
    }

    private static RecordTable Nests(DrawnLayout drawn)
    {
        var rows = new RowsOf(RecordKind.Nests, "transect", "nest", "cover", "set_on", "plant", "eggs", "steps", "direction", "direction_sense", "north", "flag_lat", "flag_lon", "position_source", "status", "class_due", "marked", "note");
        foreach (var line in drawn.Lines)
        {
            foreach (var station in line.Stations)
            {
                var flag = line.Flags[station.Number];
                rows.Add(("transect", line.Name), ("nest", Numbers.Fixed(station.Number, 0)), ("flag_lat", Of(flag.Latitude)), ("flag_lon", Of(flag.Longitude)), ("position_source", "planned"),
                    ("class_due", station.Cover), ("marked", station.IsFlagged ? "flag" : "none"));
            }
        }

        return rows.Table();
    }

    private static string Of(double degrees) => Numbers.Fixed(degrees, Decimals);
}

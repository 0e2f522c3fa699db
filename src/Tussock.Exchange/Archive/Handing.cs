using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Exchange.Archive;

/// <summary>What becomes of a column when a season is published.</summary>
internal enum Handing
{
    /// <summary>Stays at home: notes, landmarks, pictures, and every column that nobody has decided about.</summary>
    Withheld,

    /// <summary>Goes out as it is: numbers, dates, tokens.</summary>
    Kept,

    /// <summary>Goes out only where places are exact: coordinates, and directions and distances from which one could be rebuilt.</summary>
    WhereExact,

    /// <summary>A property's name.</summary>
    Property,

    /// <summary>A pasture's name.</summary>
    Pasture,

    /// <summary>A transect's name, or the lasting name of its flag line.</summary>
    Line,

    /// <summary>A person's name: always a number.</summary>
    Person,

    /// <summary>Name of a camera: always a number.</summary>
    Camera,

    /// <summary>A cover class: the season's own word, unless a name of land or people is in it.</summary>
    Cover,

    /// <summary>A short word from a list in people's heads: goes out unless it may hold more.</summary>
    Word,

    /// <summary>A word that must not become empty: what may hold more becomes <c>other</c>.</summary>
    WordOrOther,

    /// <summary>A local time that no reader has checked: goes out if it is one.</summary>
    Moment,

    /// <summary>A whole number that no reader has checked.</summary>
    Whole,

    /// <summary>Yes or no that no reader has checked.</summary>
    YesNo,

    /// <summary>A class of animal: what is in no list becomes <c>other</c>.</summary>
    Culprit,

    /// <summary>A person's name in a column that stays at home: known, so that no word with it goes out.</summary>
    Informant,
}

/// <summary>What becomes of each column of the season folder in an archive. A column that stands in no list stays at home.</summary>
internal static class ColumnHandings
{
    /// <summary>The lists, by kind; kinds that are not here stay at home whole.</summary>
    private static readonly ImmutableDictionary<RecordKind, ImmutableDictionary<string, Handing>> Lists = new[]
    {
        List(RecordKind.Pastures, "property=Property pasture=Pasture area_ha=WhereExact management=Word stocking_au_per_ha last_grazed=Word last_burned=Word ecological_site=Word note=Withheld"),
        List(RecordKind.Transects, "property=Property pasture=Pasture transect=Line set_on observer=Person start_lat=WhereExact start_lon=WhereExact bearing_true_deg=WhereExact step_m steps_between line=Line end_lat=WhereExact end_lon=WhereExact gps_accuracy_m=WhereExact direction_walked=Withheld paced_by=Person recorder=Person stratum=Word flags_out flags_in washers_out washers_in picked_up_on photos=Withheld note=Withheld cell_lat=Kept cell_lon=Kept cell_reach_m=Kept"),
        List(RecordKind.Nests, "transect=Line nest cover=Cover set_on plant=Word eggs egg_kind=Word steps=WhereExact direction=WhereExact direction_sense=WhereExact north=WhereExact flag_lat=WhereExact flag_lon=WhereExact nest_lat=WhereExact nest_lon=WhereExact position_source=WhereExact gps_accuracy_m=WhereExact set_at note=Withheld status class_due=Cover clump_choice steps_searched paced_by=Person side=Withheld steps_2=WhereExact direction_2=WhereExact distance_m=WhereExact landmarks=Withheld marked clump_height_cm clump_width_cm concealment live_or_dead=Word near=Withheld near_m=Withheld photos=Withheld picked_up set_on_assumed=YesNo"),
        List(RecordKind.Visits, "transect=Line nest visited_on visited_at day finding eggs_intact eggs_refreshed observer=Person note=Withheld purpose cause=WordOrOther eggs_found_whole eggs_broken eggs_missing eggs_spoiled eggs_left washer washer_moved_m bowl flag cover_now=Cover search_minutes searchers not_found_because=Word found_by=Person second_observer=Person photos=Withheld day_assumed deployment=Camera"),
        List(RecordKind.Remains, "transect=Line nest visited_on day sign=WordOrOther value=Word observer=Person photos=Withheld crew_guess=Word looked_within_m"),
        List(RecordKind.Cameras, "transect=Line nest event_at day culprit=Culprit certainty=Word took_eggs media=Withheld role eggs_taken until=Moment species=Word count=Whole deployment=Camera"),
        List(RecordKind.Deployments, "transect=Line nest from to camera=Camera worked_until failed_because=Word clock_offset_min chosen distance_m deployment=Camera"),
        List(RecordKind.Belts, "transect=Line segment steps step_m arm_span_m cover=Cover clumps counted_on observer=Person pass side width_m width_by=Informant status reason=Withheld"),
        List(RecordKind.Crew, "observer=Person course_m steps arm_span_m walked_on ground"),
        List(RecordKind.Events, "property=Property pasture=Pasture transect=Line from to kind amount unit=Word told_by=Informant note=Withheld"),
    }.ToImmutableDictionary();

    /// <summary>Kinds that an archive may hold, in the order of the season folder.</summary>
    internal static ImmutableArray<RecordKind> Kinds { get; } = [.. RecordKind.All.Where(Lists.ContainsKey)];

    /// <summary>What becomes of a column.</summary>
    internal static Handing Of(RecordKind kind, string column) => Lists.TryGetValue(kind, out var list) ? list.GetValueOrDefault(column) : Handing.Withheld;

    /// <summary>Whether somebody has decided about a column, be it that it stays at home.</summary>
    internal static bool IsDecided(RecordKind kind, string column) => Lists.TryGetValue(kind, out var list) && list.ContainsKey(column);

    /// <summary>Whether a column holds names of people, whatever becomes of it: one that is called like a column for people does, also in a kind that stays at home whole.</summary>
    internal static bool IsOfPeople(string column) => Lists.Values.Any(l => l.GetValueOrDefault(column) is Handing.Person or Handing.Informant);

    private static KeyValuePair<RecordKind, ImmutableDictionary<string, Handing>> List(RecordKind kind, string columns) => new(kind, columns.Split(' ').Select(c => c.Split('='))
        .ToImmutableDictionary(c => c[0], c => c.Length == 1 ? Handing.Kept : Enum.Parse<Handing>(c[1]), StringComparer.Ordinal));
}

using System.Collections.Frozen;
using System.Collections.Immutable;

namespace Tussock.Records;

/// <summary>A kind of record: its file in the season folder, its natural key and its columns. The one place that knows the folder's contract.</summary>
/// <remarks>The list is <see cref="All"/>, in the order of the folder. May be shared between threads.</remarks>
public sealed class RecordKind
{
    private readonly FrozenDictionary<string, Column> byName;

    private RecordKind(string name, bool isRequired, ImmutableArray<string> key, ImmutableArray<Column> columns)
    {
        Name = name;
        IsRequired = isRequired;
        Key = key;
        Columns = columns;
        byName = columns.ToFrozenDictionary(c => c.Name, StringComparer.Ordinal);
    }

    /// <summary>pastures.csv.</summary>
    public static RecordKind Pastures { get; } = Kind("pastures", true, "property pasture", "property! pasture! area_ha:amount management note stocking_au_per_ha:amount last_grazed:text last_burned:text ecological_site");

    /// <summary>transects.csv.</summary>
    public static RecordKind Transects { get; } = Kind("transects", true, "transect", "property! pasture! transect! set_on:date+ observer start_lat:lat start_lon:lon bearing_true_deg:direction step_m:amount steps_between:count line end_lat:lat end_lon:lon gps_accuracy_m:amount direction_walked paced_by recorder stratum flags_out:count flags_in:count washers_out:count washers_in:count picked_up_on:date photos note");

    /// <summary>nests.csv.</summary>
    public static RecordKind Nests { get; } = Kind("nests", true, "transect nest", "transect! nest!count cover+ set_on:date plant eggs:count egg_kind steps:amount direction:direction direction_sense:flag_to_nest|nest_to_flag north:magnetic|true flag_lat:lat flag_lon:lon nest_lat:lat nest_lon:lon position_source:planned|gps|dead_reckoning gps_accuracy_m:amount set_at:time note status:set|no_clump|not_set|extra class_due clump_choice:nearest|best_seen|only_one|poor steps_searched:amount paced_by side steps_2:amount direction_2:direction distance_m:amount landmarks marked:flag|none clump_height_cm:amount clump_width_cm:amount concealment:number live_or_dead near near_m:amount photos picked_up:yesno");

    /// <summary>visits.csv.</summary>
    public static RecordKind Visits { get; } = Kind("visits", true, "transect nest visited_on day", "transect! nest!count visited_on:date visited_at:time day:number finding+intact|depredated|other_loss|not_relocated eggs_intact:count eggs_refreshed:yesno observer note purpose:check|camera_service|second_search|chance cause eggs_found_whole:count eggs_broken:count eggs_missing:count eggs_spoiled:count eggs_left:count washer:in_bowl|moved|not_found washer_moved_m:amount bowl:as_set|disturbed|gone flag:standing|down|gone cover_now search_minutes:amount searchers:count not_found_because found_by second_observer photos day_assumed:yesno");

    /// <summary>remains.csv.</summary>
    public static RecordKind Remains { get; } = Kind("remains", false, "transect nest visited_on day sign", "transect! nest!count visited_on:date day:number sign! value observer photos crew_guess looked_within_m:amount");

    /// <summary>cameras.csv.</summary>
    public static RecordKind Cameras { get; } = Kind("cameras", false, "transect nest event_at day culprit", "transect! nest!count event_at:datetime day:number culprit+ certainty took_eggs:yesno media role:passed|looked_in|took_first|took_later|ate_remains|trampled|person eggs_taken:count");

    /// <summary>deployments.csv.</summary>
    public static RecordKind Deployments { get; } = Kind("deployments", false, "transect nest camera", "transect! nest!count from:datetime to:datetime camera worked_until:datetime failed_because clock_offset_min:number chosen:drawn|handy|after_loss distance_m:amount");

    /// <summary>belts.csv.</summary>
    public static RecordKind Belts { get; } = Kind("belts", false, "transect segment cover", "transect! segment!count steps:amount step_m:amount arm_span_m:amount cover+ clumps:count counted_on:date observer pass:count side:both|left|right width_m:amount width_by status:counted|part|not_counted reason");

    /// <summary>crew.csv.</summary>
    public static RecordKind Crew { get; } = Kind("crew", false, "observer", "observer! course_m:amount steps:amount arm_span_m:amount walked_on:date ground:road|grass|brush|slope");

    /// <summary>events.csv: what happened to the land.</summary>
    public static RecordKind Events { get; } = Kind("events", false, "property pasture transect kind from", "property pasture transect from:date to:date kind!livestock_in|livestock_out|rain|hail|flood|burn|mow|spray|brush_work|grazing_rest|feed|predator_removal|other amount:number unit told_by note");

    /// <summary>media.csv.</summary>
    public static RecordKind Media { get; } = Kind("media", false, "media", "media");

    /// <summary>plants.csv.</summary>
    public static RecordKind Plants { get; } = Kind("plants", false, "plant", "plant");

    /// <summary>chance.csv: what was met on the way; places kept back by default.</summary>
    public static RecordKind Chance { get; } = Kind("chance", false, "transect kind", "transect kind");

    /// <summary>All kinds, in the order of the folder.</summary>
    public static ImmutableArray<RecordKind> All { get; } = [Pastures, Transects, Nests, Visits, Remains, Cameras, Deployments, Belts, Crew, Events, Media, Plants, Chance];

    /// <summary>Name of the kind and of its resource, for example <c>visits</c>.</summary>
    public string Name { get; }

    /// <summary>File in the season folder, for example <c>visits.csv</c>.</summary>
    public string File => Name + ".csv";

    /// <summary>Whether a season folder must have the file.</summary>
    public bool IsRequired { get; }

    /// <summary>Columns of the natural key, before the count of equal ones.</summary>
    public ImmutableArray<string> Key { get; }

    /// <summary>Known columns, without <c>id</c>, which every file may carry.</summary>
    public ImmutableArray<Column> Columns { get; }

    /// <summary>The kind with this name; null when there is none.</summary>
    public static RecordKind? Named(string name)
    {
        foreach (var kind in All) if (kind.Name == name) return kind;
        return null;
    }

    /// <summary>The known column with this name; null for an extra column.</summary>
    public Column? ColumnNamed(string name) => name == "id" ? IdColumn : byName.GetValueOrDefault(name);

    private static readonly Column IdColumn = new("id", ColumnType.Uuid);

    /// <summary>Reads the compact list above: "name", "name!" filled in every row, "name+" in every header, then the type or the tokens.</summary>
    private static RecordKind Kind(string name, bool isRequired, string key, string columns) =>
        new(name, isRequired, [.. key.Split(' ')], [.. columns.Split(' ').Select(ColumnFrom)]);

    private static Column ColumnFrom(string text)
    {
        var cut = text.IndexOfAny([':', '!', '+']);
        if (cut < 0) return new Column(text, ColumnType.Text);
        var name = text[..cut];
        var isRequired = text[cut] == '!';
        var rest = text[(cut + 1)..];
        var isInHeader = text[cut] == '+' || rest.EndsWith('+');
        rest = rest.TrimEnd('+');
        var type = rest switch
        {
            "" or "text" => ColumnType.Text,
            "count" => ColumnType.Count,
            "number" => ColumnType.Number,
            "amount" => ColumnType.Amount,
            "date" => ColumnType.Date,
            "time" => ColumnType.LocalTime,
            "datetime" => ColumnType.DateMaybeTime,
            "yesno" => ColumnType.YesNo,
            "direction" => ColumnType.Direction,
            "lat" => ColumnType.Latitude,
            "lon" => ColumnType.Longitude,
            _ => ColumnType.Token,
        };
        return new Column(name, type, isRequired) { IsInHeader = isInHeader || isRequired, Tokens = type == ColumnType.Token ? [.. rest.Split('|')] : [] };
    }
}

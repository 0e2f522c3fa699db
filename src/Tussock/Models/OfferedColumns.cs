using Tussock.Records;

namespace Tussock.Models;

/// <summary>The columns of a season's records that may serve as effects: those listed here, and every extra column.</summary>
/// <remarks>Places, times, notes and what is filled in after a loss are no effects.</remarks>
internal sealed class OfferedColumns(Season season)
{
    private static readonly string[] Computed = ["pasture", "property", "clumps_per_acre", "fortnight", "egg_age", "refreshed", "season_date"];
    private static readonly string[] Nests = ["plant", "eggs", "egg_kind", "steps", "clump_choice", "steps_searched", "clump_height_cm", "clump_width_cm", "concealment", "live_or_dead", "near", "near_m", "side"];
    private static readonly string[] Transects = ["observer", "stratum", "direction_walked"];
    private static readonly string[] Pastures = ["area_ha", "management", "stocking_au_per_ha", "last_grazed", "last_burned", "ecological_site"];

    /// <summary>Every name that might be an effect, in the order in which names are looked up.</summary>
    internal IEnumerable<string> Names => ["cover", .. In(RecordKind.Nests, Nests), .. Computed, .. In(RecordKind.Transects, Transects), .. In(RecordKind.Pastures, Pastures)];

    /// <summary>The way to read a column of nests; null when it is none that may serve.</summary>
    internal Func<Source, string>? OfNests(string name) => Of(RecordKind.Nests, Nests, name);

    /// <summary>The way to read a column of transects.</summary>
    internal Func<Source, string>? OfTransects(string name) => Of(RecordKind.Transects, Transects, name);

    /// <summary>The way to read a column of pastures.</summary>
    internal Func<Source, string>? OfPastures(string name) => Of(RecordKind.Pastures, Pastures, name);

    private IEnumerable<string> In(RecordKind kind, string[] known) => (season.Tables.Table(kind)?.Columns ?? []).Where(c => c.Length > 0 && (kind.ColumnNamed(c) is null || known.Contains(c)));

    private Func<Source, string>? Of(RecordKind kind, string[] known, string name)
    {
        if (!In(kind, known).Contains(name)) return null;
        return kind.ColumnNamed(name)?.Type == ColumnType.Token ? source => source.Token(name) : source => source.Text(name);
    }
}

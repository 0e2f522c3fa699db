using System.Globalization;
using System.Text;
using Tussock.Records;

namespace Tussock.Exchange.Places;

/// <summary>What of a season a thing on a map may be.</summary>
internal enum Target
{
    /// <summary>Boundary of a pasture.</summary>
    Pasture,

    /// <summary>A line.</summary>
    Line,

    /// <summary>Start of a line.</summary>
    Start,

    /// <summary>End of a line.</summary>
    End,

    /// <summary>A flag.</summary>
    Flag,

    /// <summary>A nest.</summary>
    Nest,
}

/// <summary>A row of the season and what of it is meant.</summary>
/// <param name="Target">What is meant.</param>
/// <param name="Row">Row in the table of pastures, transects or nests.</param>
internal readonly record struct Meant(Target Target, int Row);

/// <summary>The names under which pastures, lines, flags and nests of a season may stand in a file from elsewhere.</summary>
/// <remarks>
/// Capitals, blanks, signs between and zeros in front make no difference: “T2-5”, “t2 05” and “T2_5” are one name. A point that is named only by line and number is the flag, one named only by its line is the start.
/// </remarks>
internal sealed class StationNames
{
    private readonly Dictionary<string, HashSet<Meant>> areas = new(StringComparer.Ordinal);
    private readonly Dictionary<string, HashSet<Meant>> lines = new(StringComparer.Ordinal);
    private readonly Dictionary<string, HashSet<Meant>> points = new(StringComparer.Ordinal);

    internal StationNames(SeasonTables tables)
    {
        if (tables.Table(RecordKind.Pastures) is { } pastures) for (var row = 0; row < pastures.Rows.Length; row++) AddPasture(new Source(pastures, pastures.Rows[row]), row);
        if (tables.Table(RecordKind.Transects) is { } transects) for (var row = 0; row < transects.Rows.Length; row++) AddTransect(new Source(transects, transects.Rows[row]).Text("transect"), row);
        if (tables.Table(RecordKind.Nests) is { } nests) for (var row = 0; row < nests.Rows.Length; row++) AddNest(new Source(nests, nests.Rows[row]), row);
    }

    /// <summary>All that a thing may be: by its values where it has them, else by its name. None: it is nothing of the season; several: nobody can tell.</summary>
    internal IReadOnlyCollection<Meant> Of(MapFeature feature)
    {
        var names = feature.Shape switch { MapArea => areas, MapLine => lines, _ => points };
        var found = names.GetValueOrDefault(Plain(ByValues(feature)));
        if (found is null && feature.Name.Length > 0) found = names.GetValueOrDefault(Plain(feature.Name));
        return found is null ? [] : found;
    }

    /// <summary>The name without what makes no difference.</summary>
    internal static string Plain(string name)
    {
        var plain = new StringBuilder(name.Length);
        var isNumber = false;
        for (var i = 0; i < name.Length; i++)
        {
            var c = char.ToLowerInvariant(name[i]);
            if (!char.IsLetterOrDigit(c)) c = ' ';
            if (c == ' ' && (plain.Length == 0 || plain[^1] == ' ')) continue;
            var isLeadingZero = c == '0' && !isNumber && i + 1 < name.Length && char.IsAsciiDigit(name[i + 1]);
            if (isLeadingZero) continue;
            isNumber = char.IsAsciiDigit(c);
            plain.Append(c);
        }

        return plain.ToString().TrimEnd();
    }

    private static string ByValues(MapFeature feature)
    {
        if (feature.Shape is MapArea) return feature.Field("property") + " " + feature.Field("pasture");
        if (feature.Field("transect") is not { Length: > 0 } transect) return "";
        if (feature.Shape is MapLine) return transect;
        var kind = feature.Field(MapFeature.Kind);
        return transect + " " + (feature.Field("nest") is { Length: > 0 } nest ? (kind == "nest" ? "nest " : "flag ") + (Cell.Whole(nest)?.ToString(CultureInfo.InvariantCulture) ?? nest) : kind == "end" ? "end" : "start");
    }

    private void AddPasture(Source source, int row)
    {
        var meant = new Meant(Target.Pasture, row);
        var (property, pasture) = (source.Text("property"), source.Text("pasture"));
        foreach (var name in new[] { pasture, property + " " + pasture, pasture + " " + property, pasture + " pasture", "pasture " + pasture }) Add(areas, name, meant);
    }

    private void AddTransect(string transect, int row)
    {
        foreach (var name in new[] { transect, "transect " + transect })
        {
            Add(lines, name, new Meant(Target.Line, row));
            Add(points, name, new Meant(Target.Start, row));
            foreach (var (word, target) in new[] { ("start", Target.Start), ("end", Target.End) })
            {
                Add(points, name + " " + word, new Meant(target, row));
                Add(points, word + " " + name, new Meant(target, row));
            }
        }
    }

    private void AddNest(Source source, int row)
    {
        if (Cell.Whole(source.Text("nest")) is not { } number) return;
        var digits = number.ToString(CultureInfo.InvariantCulture);
        foreach (var transect in new[] { source.Text("transect"), "transect " + source.Text("transect") })
        {
            Add(points, transect + " " + digits, new Meant(Target.Flag, row));
            foreach (var (word, target) in new[] { ("flag", Target.Flag), ("nest", Target.Nest) })
            {
                Add(points, transect + " " + word + " " + digits, new Meant(target, row));
                Add(points, transect + " " + digits + " " + word, new Meant(target, row));
                Add(points, word + " " + transect + " " + digits, new Meant(target, row));
            }
        }
    }

    private static void Add(Dictionary<string, HashSet<Meant>> names, string name, Meant meant)
    {
        var plain = Plain(name);
        if (!names.TryGetValue(plain, out var list)) names.Add(plain, list = []);
        list.Add(meant);
    }
}

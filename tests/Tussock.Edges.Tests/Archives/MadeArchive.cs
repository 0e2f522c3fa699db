using System.Collections.Immutable;
using System.Text.Json;
using System.Text.RegularExpressions;
using Tussock.Edges.Tests.Commands;
using Tussock.Exchange.SeasonFolder;
using Tussock.Records;
using Tussock.Simulation;

namespace Tussock.Edges.Tests.Archives;

/// <summary>Seasons, their archive, and what comes back of it: files of one test, gone afterwards.</summary>
internal sealed class MadeArchive : IDisposable
{
    private const string SeasonName = "\u0001season";
    private readonly ScratchFolder scratch = new();

    /// <summary>The data file with the seasons as they are at home.</summary>
    internal string Home => scratch.At("home.db");

    /// <summary>A path here.</summary>
    internal string At(string name) => scratch.At(name);

    public void Dispose() => scratch.Dispose();

    /// <summary>Takes seasons into the data file at home.</summary>
    internal MadeArchive Holding(params IEnumerable<SeasonTables> seasons)
    {
        foreach (var season in seasons)
        {
            var folder = scratch.At("in-" + Guid.NewGuid().ToString("N"));
            if (SeasonFolderWriter.Write(season, folder) is [var wrong, ..]) throw new InvalidOperationException(wrong.Rule);
            Typed.Done("import", Home, folder);
        }

        return this;
    }

    /// <summary>Writes the archive.</summary>
    internal string Written(string name = "archive", params string[] more)
    {
        Typed.Done(["export", Home, scratch.At(name), "--as", "archive", "--at", Typed.At, .. more]);
        return scratch.At(name);
    }

    /// <summary>Takes an archive into another data file.</summary>
    internal string Back(string archive, string name = "back.db")
    {
        Typed.Done("import", scratch.At(name), archive);
        return scratch.At(name);
    }

    /// <summary>All texts of an archive folder, by path.</summary>
    internal static (string Path, string Text)[] Texts(string archive) => [.. Directory.GetFiles(archive, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal).Select(f => (Path.GetRelativePath(archive, f).Replace('\\', '/'), File.ReadAllText(f)))];

    /// <summary>The invented season of a year.</summary>
    internal static SeasonTables Invented(ulong seed, string name, string year) => With(DemoSeason.Write(seed), ("name", name), ("year", year));

    /// <summary>The first four lines of a season with all that is on them, for tests that don't need more.</summary>
    internal static SeasonTables Small(SeasonTables season)
    {
        var lines = season.Table(RecordKind.Transects)!;
        var kept = lines.Rows.Take(4).Select(r => r.Cells[lines.IndexOf("transect")]).ToHashSet(StringComparer.Ordinal);
        return season with { Tables = [.. season.Tables.Select(t => t.IndexOf("transect") is >= 0 and var at && t.Kind != RecordKind.Events ? t with { Rows = [.. t.Rows.Where(r => kept.Contains(r.Cells[at]))] } : t)] };
    }

    /// <summary>A season with other rules.</summary>
    internal static SeasonTables With(SeasonTables season, params (string Name, string Text)[] rules) => season with
    {
        Package = season.Package with { Season = [.. season.Package.Season.Where(p => !rules.Any(r => r.Name == p.Name)), .. rules.Select(r => new Tussock.Records.JsonProperty(r.Name, JsonSerializer.Serialize(r.Text)))] },
    };

    /// <summary>A season with another text in a column, in every row or in one.</summary>
    internal static SeasonTables With(SeasonTables season, RecordKind kind, string column, Func<RecordRow, string, string> cell) => season with
    {
        Tables = [.. season.Tables.Select(t => t.Kind != kind ? t : Changed(t, column, cell))],
    };

    /// <summary>What differs between two documents of results, names of land and lines put for each other.</summary>
    internal static IEnumerable<string> Differences(JsonElement there, JsonElement here, IReadOnlyDictionary<string, string> names, string path = "")
    {
        // What a season is called, in whatever group it is named.
        if (there.ValueKind == JsonValueKind.String && path.EndsWith("/name", StringComparison.Ordinal) && names.TryGetValue(SeasonName, out var called) && called == there.GetString() + "\n" + here.GetString()) return [];
        if (path is "/season/name" or "/season/title" or "/season/comment" || path.StartsWith("/pooled/seasons/", StringComparison.Ordinal)) return [];
        if (there.ValueKind != here.ValueKind) return [path + ": " + there.GetRawText() + " and " + here.GetRawText()];
        switch (there.ValueKind)
        {
            case JsonValueKind.Object:
                var (a, b) = (there.EnumerateObject().ToArray(), here.EnumerateObject().ToArray());
                return !a.Select(p => p.Name).SequenceEqual(b.Select(p => p.Name)) ? [path + ": other keys"] : a.Zip(b).SelectMany(p => Differences(p.First.Value, p.Second.Value, names, path + "/" + p.First.Name));
            case JsonValueKind.Array:
                return there.GetArrayLength() != here.GetArrayLength() ? [path + ": other length"] : there.EnumerateArray().Zip(here.EnumerateArray()).SelectMany((p, i) => Differences(p.First, p.Second, names, path + "/" + i));
            case JsonValueKind.String:
                var text = Named(there.GetString()!, names);
                return text == here.GetString() ? [] : [path + ": " + text + " and " + here.GetString()];
            default:
                return there.GetRawText() == here.GetRawText() ? [] : [path + ": " + there.GetRawText() + " and " + here.GetRawText()];
        }
    }

    /// <summary>Which name stands for which, found by the order of records, which numbers keep.</summary>
    internal static Dictionary<string, string> Names(Season there, Season here)
    {
        var names = new Dictionary<string, string>(StringComparer.Ordinal) { [SeasonName] = there.Settings.Name + "\n" + here.Settings.Name };
        foreach (var (a, b) in there.Pastures.Zip(here.Pastures))
        {
            names[a.Property] = b.Property;
            names[a.Property + ", " + a.Name] = b.Property + ", " + b.Name;
            names[a.Name] = b.Name;
        }

        foreach (var (a, b) in there.Transects.Zip(here.Transects)) names[a.Name] = b.Name;
        foreach (var (a, b) in there.CrewWalks.Zip(here.CrewWalks)) names[a.Observer] = b.Observer;
        return names;
    }

    /// <summary>A season as the program reads it from a data file.</summary>
    internal static Season Season(string data, string name) => SeasonReading.Read(Tussock.Store.DataFile.OpenToRead(data).Tables(name), out _)!;

    private static string Named(string text, IReadOnlyDictionary<string, string> names)
    {
        if (names.TryGetValue(text, out var whole)) return whole;
        // A number stands for a line alone, or before the number of a nest; in a sentence it is any number.
        var any = string.Join('|', names.Keys.Where(n => n.Length > 0 && n.Any(c => !char.IsAsciiDigit(c))).OrderByDescending(n => n.Length).Select(Regex.Escape).Concat(names.Keys.Where(n => n.All(char.IsAsciiDigit)).Select(n => n + @"(?=-\d+\b(?!-))")));
        return any.Length == 0 ? text : Regex.Replace(text, @"(?<![\w-])(?:" + any + @")(?!\w)", m => names[m.Value], RegexOptions.None, TimeSpan.FromSeconds(5));
    }

    private static RecordTable Changed(RecordTable table, string column, Func<RecordRow, string, string> cell)
    {
        var at = table.IndexOf(column);
        return at >= 0 ? table with { Rows = [.. table.Rows.Select(r => r with { Cells = r.Cells.SetItem(at, cell(r, r.Cells[at])) })] }
            : table with { Columns = table.Columns.Add(column), Rows = [.. table.Rows.Select(r => r with { Cells = r.Cells.Add(cell(r, "")) })] };
    }
}

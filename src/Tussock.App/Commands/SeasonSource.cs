using System.Collections.Immutable;
using Tussock.Exchange.SeasonFolder;
using Tussock.Records;
using Tussock.Simulation;
using Tussock.Store;

namespace Tussock.App.Commands;

/// <summary>What DATA means on a command line: a season folder, a data file, or the built-in season.</summary>
internal static class SeasonSource
{
    /// <summary>Name of the built-in season, when no file or folder has it.</summary>
    private const string Demo = "demo";

    /// <summary>Reads the tables of the season that DATA and --season name.</summary>
    internal static (SeasonTables? Tables, ImmutableArray<Problem> Problems) Tables(string data, string? season, CancellationToken cancel)
    {
        if (IsFolder(data)) return SeasonFolderReader.Read(data, cancel);
        if (data == Demo && !File.Exists(data)) return (DemoSeason.Write(1), []);
        try
        {
            var file = DataFile.OpenToRead(data);
            var (name, wrong) = Chosen(file, season);
            return wrong.IsEmpty ? (file.Tables(name!, cancel), []) : (null, wrong);
        }
        catch (DataFileException fault)
        {
            return (null, [fault.Problem]);
        }
    }

    /// <summary>Reads the season, or with <c>--season all</c> all of a data file as one: for commands that only answer. What is written or printed is of one season.</summary>
    internal static (Season? Season, ImmutableArray<Problem> Problems) SeasonOrAll(string data, string? season, CancellationToken cancel)
    {
        if (season != PooledYears.All) return Season(data, season, cancel);
        var (all, wrong) = All(data, cancel);
        if (all.IsEmpty) return (null, wrong);
        return SeasonPooling.Pool(all, out var stopped) is { } pooled ? (SeasonReading.Read(pooled, out var odd), odd) : (null, stopped);
    }

    /// <summary>Reads the season itself.</summary>
    internal static (Season? Season, ImmutableArray<Problem> Problems) Season(string data, string? season, CancellationToken cancel)
    {
        var (tables, problems) = Tables(data, season, cancel);
        var stops = problems.Where(p => p.Severity == Severity.Stop).ToImmutableArray();
        if (tables is null) return (null, problems);
        var read = SeasonReading.Read(tables, out var wrong);
        return stops.IsEmpty ? (read, wrong) : (null, stops.AddRange(wrong));
    }

    /// <summary>The tables of every season of a data file, by name; empty where DATA is no data file.</summary>
    internal static (ImmutableArray<SeasonTables> Seasons, ImmutableArray<Problem> Problems) All(string data, CancellationToken cancel)
    {
        if (HoldsOne(data)) return ([], [Wrong("app.all_of_one")]);
        try
        {
            var file = DataFile.OpenToRead(data);
            var seasons = file.Seasons();
            return seasons.IsEmpty ? ([], [Wrong("app.no_seasons")]) : ([.. seasons.Select(s => file.Tables(s.Name, cancel))], []);
        }
        catch (DataFileException fault)
        {
            return ([], [fault.Problem]);
        }
    }

    /// <summary>Whether DATA is one season by its kind: a season folder, or the built-in season.</summary>
    internal static bool HoldsOne(string data) => IsFolder(data) || (data == Demo && !File.Exists(data));

    /// <summary>Whether DATA is a season folder, or the description inside one.</summary>
    internal static bool IsFolder(string data) => Directory.Exists(data) || string.Equals(Path.GetFileName(data), "datapackage.json", StringComparison.Ordinal);

    /// <summary>The season of a data file that is meant: the only one, or the one named.</summary>
    internal static (string? Name, ImmutableArray<Problem> Problems) Chosen(DataFile file, string? season)
    {
        var names = file.Seasons().Select(s => s.Name).ToImmutableArray();
        if (season == PooledYears.All && !names.Contains(season)) return (null, [Wrong("app.not_of_all", ("seasons", names.ToArray()))]);
        if (season is not null) return names.Contains(season) ? (season, []) : (null, [Wrong("app.no_such_season", ("season", season), ("seasons", names.ToArray()))]);
        return names.Length switch
        {
            1 => (names[0], []),
            0 => (null, [Wrong("app.no_seasons")]),
            _ => (null, [Wrong("app.several_seasons", ("seasons", names.ToArray()))]),
        };
    }

    private static Problem Wrong(string key, params ReadOnlySpan<(string, object)> arguments) =>
        new("season_choice", Severity.Stop, new Place("DATA"), Phrase.Of(key, arguments), Phrase.Of(key + "_todo"));
}

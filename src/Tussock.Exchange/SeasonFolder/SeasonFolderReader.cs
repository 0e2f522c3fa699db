using System.Collections.Immutable;
using Tussock.Exchange.Reading;
using Tussock.Records;

namespace Tussock.Exchange.SeasonFolder;

/// <summary>Reads a season folder: bytes to tables, and tables to a season, with everything that is wrong told at once.</summary>
/// <remarks>
/// Taken: UTF-8 with or without its mark; LF, CRLF and lone CR; quoted cells with line ends and doubled quotes; rows in which nothing is
/// written (left out) and empty cells beyond the header (left out). Cells are kept as written, blanks too.
/// Part of the season are <c>datapackage.json</c>, the CSV files of <see cref="RecordKind.All"/> whether listed among the resources or not, and
/// pastures.geojson, zones.geojson, signs.json, changes.jsonl. Other files are not; other CSV files and other listed files are noted, the <c>media</c> folder is left to whoever keeps photos.
/// Limits: 512 MiB a file, 5 million rows, 1 MiB a row and so a cell, 2,000 columns, 16 MiB of description; 200 problems a file are told one by one.
/// A file is streamed; only what becomes a table is kept. No path leaves the folder: no "..", absolute path, address, or link that leads outside.
/// </remarks>
public static class SeasonFolderReader
{
    /// <summary>Reads the tables of a season folder.</summary>
    /// <param name="folder">Path of the folder, or of its <c>datapackage.json</c>.</param>
    /// <param name="cancel">Ends the reading with an exception.</param>
    /// <returns>The tables, null when anything stops an import; and all problems of the bytes, in the order of the folder. Notes alone don't stop.</returns>
    public static (SeasonTables? Tables, ImmutableArray<Problem> Problems) Read(string folder, CancellationToken cancel = default)
    {
        var contents = FolderContents.Read(folder, CsvLimits.Usual, cancel);
        return (contents.IsStopped ? null : contents.Tables, [.. contents.Problems]);
    }

    /// <summary>Reads a season from its folder: the tables, and what their cells mean.</summary>
    /// <param name="folder">Path of the folder, or of its <c>datapackage.json</c>.</param>
    /// <param name="cancel">Ends the reading with an exception.</param>
    /// <returns>The season, null when anything stops an import; and all problems of bytes and cells, by file and line.</returns>
    public static (Season? Season, ImmutableArray<Problem> Problems) ReadSeason(string folder, CancellationToken cancel = default) => ReadSeason(folder, CsvLimits.Usual, cancel);

    /// <summary>As above, with limits of one's own.</summary>
    internal static (Season? Season, ImmutableArray<Problem> Problems) ReadSeason(string folder, CsvLimits limits, CancellationToken cancel = default)
    {
        var contents = FolderContents.Read(folder, limits, cancel);
        if (!contents.IsFolder) return (null, [.. contents.Problems]);
        var season = SeasonReading.Read(contents.Tables, out var ofCells);
        var all = contents.Problems.Concat(ofCells.Where(p => !IsConsequence(p, contents)));
        return (contents.IsStopped ? null : season, [.. all.OrderBy(p => Rank(p.Place.File)).ThenBy(p => p.Place.Line ?? 0)]);
    }

    /// <summary>Whether a problem only follows from a file that could not be read whole.</summary>
    private static bool IsConsequence(Problem problem, FolderContents contents) => problem.Rule switch
    {
        "season_missing" => contents.Package is null,
        "file_missing" => contents.IsBad(problem.Place.File) || contents.IsBad(FolderFiles.Description),
        "no_such_pasture" => contents.IsBad(RecordKind.Pastures.File),
        "no_such_transect" => contents.IsBad(RecordKind.Pastures.File) || contents.IsBad(RecordKind.Transects.File),
        "no_such_nest" => contents.IsBad(RecordKind.Pastures.File) || contents.IsBad(RecordKind.Transects.File) || contents.IsBad(RecordKind.Nests.File),
        _ => false,
    };

    private static int Rank(string file)
    {
        if (file == FolderFiles.Description) return -1;
        for (var i = 0; i < RecordKind.All.Length; i++) if (RecordKind.All[i].File == file) return i;
        return RecordKind.All.Length;
    }
}

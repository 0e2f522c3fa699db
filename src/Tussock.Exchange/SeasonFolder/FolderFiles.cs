using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Exchange.SeasonFolder;

/// <summary>The files that make a season folder.</summary>
internal static class FolderFiles
{
    /// <summary>The description.</summary>
    internal const string Description = "datapackage.json";

    /// <summary>Other files that are kept as text.</summary>
    internal static ImmutableArray<string> Texts { get; } = ["changes.jsonl", "pastures.geojson", "signs.json", "zones.geojson"];

    /// <summary>Whether the file, by its name at the root of the folder, is part of a season.</summary>
    internal static bool IsKnown(string file) =>
        file == Description || Texts.Contains(file) || (file.EndsWith(".csv", StringComparison.Ordinal) && RecordKind.Named(file[..^4]) is not null);
}

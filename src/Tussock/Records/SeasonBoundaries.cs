using System.Collections.Frozen;
using Tussock.Land;

namespace Tussock.Records;

/// <summary>The boundaries of a season's pastures, as the text beside its tables has them.</summary>
public static class SeasonBoundaries
{
    /// <summary>File of a season folder that holds the boundaries.</summary>
    public const string File = "pastures.geojson";

    /// <summary>Boundaries by property and pasture; none where the season has no such text, a reason where it can't be read.</summary>
    public static Answer<FrozenDictionary<(string Property, string Pasture), Boundary>> Of(SeasonTables tables)
    {
        ArgumentNullException.ThrowIfNull(tables);
        return tables.Texts.TryGetValue(File, out var text) ? BoundaryReading.Read(text) : FrozenDictionary<(string Property, string Pasture), Boundary>.Empty;
    }
}

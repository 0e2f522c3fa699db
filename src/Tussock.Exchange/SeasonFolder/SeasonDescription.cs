using Tussock.Records;

namespace Tussock.Exchange.SeasonFolder;

/// <summary>The description of a season that was never a folder.</summary>
public static class SeasonDescription
{
    /// <summary>The season with each of its tables listed in its description, as a folder of it would have them: tables without rows are kept by that.</summary>
    public static SeasonTables Listed(SeasonTables tables)
    {
        ArgumentNullException.ThrowIfNull(tables);
        return tables with { Package = Resources.Listed(tables, []) };
    }
}

using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Journal;

/// <summary>Works out what the import of a season folder does to what is stored: a comparison of three, folder, data and the folder at its last import.</summary>
/// <remarks>
/// Changed in the folder only: applied. In the data only: kept. In both: a conflict, the folder's value is written without replacing the
/// data's. Absent in the folder: kept unless asked. A column that the file lacks says nothing about its values. The order of rows says nothing. Pure: writes nothing.
/// </remarks>
public static class Import
{
    /// <summary>The plan of an import.</summary>
    /// <param name="incoming">The folder's tables, already checked by <see cref="SeasonReading"/>.</param>
    /// <param name="stored">The season as stored; new when there is nothing of it.</param>
    /// <param name="removeMissing">Whether rows that the folder no longer has are taken out.</param>
    /// <param name="record">The journal's record of a kind and id, asked only for stored records that change.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static ImportPlan Compare(SeasonTables incoming, StoredSeason stored, bool removeMissing, Func<string, Guid, RecordState> record, CancellationToken cancellation = default)
    {
        var comparison = new Comparison(stored, removeMissing, record, cancellation);
        foreach (var table in IncomingTable.Of(incoming, stored)) comparison.Add(table);
        comparison.AddAbsentTables();
        return comparison.Plan();
    }
}

using Microsoft.Data.Sqlite;
using Tussock.Store.Bulk;

namespace Tussock.Store.Sqlite;

/// <summary>What failures of a data file mean.</summary>
internal static class SqliteFailure
{
    /// <summary>What a failure means for people; null when it is a fault of the program.</summary>
    internal static DataFileException? Meaning(SqliteException failure, string path)
    {
        var rule = failure.SqliteErrorCode switch
        {
            SQLitePCL.raw.SQLITE_BUSY or SQLitePCL.raw.SQLITE_LOCKED => "busy",
            SQLitePCL.raw.SQLITE_FULL => "full",
            SQLitePCL.raw.SQLITE_READONLY or SQLitePCL.raw.SQLITE_CANTOPEN or SQLitePCL.raw.SQLITE_PERM => "read_only",
            SQLitePCL.raw.SQLITE_IOERR => "disk",
            SQLitePCL.raw.SQLITE_NOTADB => "not_a_data_file",
            SQLitePCL.raw.SQLITE_CORRUPT => "damaged",
            _ => null,
        };
        return rule is null ? null : new DataFileException(DataFileException.Of(rule, path, rule == "damaged" ? [("what", failure.Message)] : []).Problem, failure);
    }
}

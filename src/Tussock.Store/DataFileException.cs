using System.Diagnostics.CodeAnalysis;
using Microsoft.Data.Sqlite;

namespace Tussock.Store;

/// <summary>The data file can't be used as asked: no fault of the program. Holds the sentence for people.</summary>
[SuppressMessage("Design", "CA1032", Justification = "It is nothing without its problem.")]
public sealed class DataFileException(Problem problem, Exception? cause = null) : Exception(problem.Rule, cause)
{
    /// <summary>What is wrong and what to do.</summary>
    public Problem Problem { get; } = problem;

    internal static DataFileException Of(string rule, string path, params ReadOnlySpan<(string Name, object Value)> more)
    {
        var file = Path.GetFileName(path);
        return new DataFileException(new Problem(rule, Severity.Stop, new Place(file), Phrase.Of("store." + rule, [("file", file), .. more]), Phrase.Of("store." + rule + "_todo")));
    }

    /// <summary>What a failure of the database means for people; null when it is a fault of the program.</summary>
    internal static DataFileException? From(SqliteException failure, string path)
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
        if (rule is null) return null;
        var about = Of(rule, path, rule == "damaged" ? [("what", failure.Message)] : []);
        return new DataFileException(about.Problem, failure);
    }
}

using System.Security.Authentication;
using Npgsql;

namespace Tussock.Store.Postgres;

/// <summary>What failures of a server mean. The server's own sentence is never repeated: it is in its language, and may name what a stranger need not know.</summary>
internal static class ServerFailure
{
    /// <summary>What a failure means for people; null when it is a fault of the program.</summary>
    internal static DataFileException? Meaning(NpgsqlException failure, string name)
    {
        var rule = failure is PostgresException answer ? OfState(answer.SqlState) : OfConnection(failure);
        return rule is null ? null : new DataFileException(DataFileException.About(rule, name, rule == "damaged" ? [("what", failure.SqlState!)] : []).Problem, failure);
    }

    /// <summary>By the codes of PostgreSQL's manual, appendix "Error Codes".</summary>
    private static string? OfState(string code) => code switch
    {
        PostgresErrorCodes.LockNotAvailable or PostgresErrorCodes.DeadlockDetected or PostgresErrorCodes.SerializationFailure or PostgresErrorCodes.QueryCanceled => "busy",
        PostgresErrorCodes.InvalidPassword or PostgresErrorCodes.InvalidAuthorizationSpecification => "server_sign_in",
        PostgresErrorCodes.InvalidCatalogName => "server_no_database",
        PostgresErrorCodes.InsufficientPrivilege or PostgresErrorCodes.ReadOnlySqlTransaction or PostgresErrorCodes.InvalidSchemaName => "server_rights",
        PostgresErrorCodes.DiskFull => "full",
        PostgresErrorCodes.TooManyConnections => "server_crowded",
        PostgresErrorCodes.AdminShutdown or PostgresErrorCodes.CrashShutdown or PostgresErrorCodes.CannotConnectNow => "server_away",
        PostgresErrorCodes.IoError => "disk",
        PostgresErrorCodes.DataCorrupted or PostgresErrorCodes.IndexCorrupted => "damaged",
        _ => null,
    };

    private static string OfConnection(NpgsqlException failure) => failure.InnerException switch
    {
        AuthenticationException => "server_tls",
        null when failure.Message.Contains("password", StringComparison.OrdinalIgnoreCase) => "server_sign_in",
        _ => "server_away",
    };
}

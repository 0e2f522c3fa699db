using Tussock.Store.Bulk;

namespace Tussock.Store.Backup;

/// <summary>Copies a data file as it stands at one moment, whoever writes to it meanwhile.</summary>
internal static class ConsistentCopy
{
    /// <summary>Makes the copy; an existing file is never overwritten.</summary>
    internal static void Make(Database database, string target)
    {
        if (File.Exists(target)) throw DataFileException.Of("copy_exists", target);
        database.Run(database.Prepared("VACUUM INTO $0", Path.GetFullPath(target)));
    }
}

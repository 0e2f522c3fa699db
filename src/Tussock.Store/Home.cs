using System.Data.Common;
using Tussock.Store.Bulk;
using Tussock.Store.Postgres;
using Tussock.Store.Sqlite;

namespace Tussock.Store;

/// <summary>What an open database holds.</summary>
internal enum HomeState
{
    /// <summary>No table yet.</summary>
    Nothing,

    /// <summary>Tables of an older version of the program.</summary>
    Older,

    /// <summary>Tables of this version.</summary>
    Current,
}

/// <summary>Where data live: one file, or a database on a server. All that differs between the two is behind this.</summary>
internal abstract class Home
{
    /// <summary>What it is called in sentences for people; holds no password.</summary>
    internal abstract string Name { get; }

    /// <summary>Path to which an ending is added for what lies beside the data: photos, reports, copies. Null when there is no such place.</summary>
    internal abstract string? Beside { get; }

    /// <summary>The home that DATA names; nothing is opened.</summary>
    /// <exception cref="DataFileException">It can't name one.</exception>
    internal static Home Of(string data) => ServerAddress.Is(data) ? ServerHome.Reached(data) : new FileHome(data);

    /// <summary>Path beside the data with an ending.</summary>
    /// <exception cref="DataFileException">There is no place beside the data.</exception>
    internal string At(string ending) => Beside is { } beside ? beside + ending : throw DataFileException.About("no_folder", Name);

    /// <summary>Refuses data that can only be read when they are not there.</summary>
    internal abstract void MustExist();

    /// <summary>Whether it is plain without opening anything that there is nothing yet.</summary>
    internal abstract bool IsNothing { get; }

    /// <summary>Whether something is here already that a restore would take the place of, be it damaged or not.</summary>
    internal abstract bool IsTaken();

    internal abstract Database Read();

    /// <summary>Opens to write; a file is made when there is none.</summary>
    internal abstract Database Write(DateTimeOffset now, Action<string>? before);

    /// <summary>What an open database holds.</summary>
    /// <exception cref="DataFileException">Something else, or data of a newer version.</exception>
    internal abstract HomeState StateOf(Database database);

    /// <summary>Makes or upgrades the tables: a file after a copy of it has been laid beside, a server in one transaction.</summary>
    internal abstract void BringUpToDate(Database database, DateTimeOffset now, Action<string>? before);

    /// <summary>Writes a data file with all that the open database holds at one moment.</summary>
    internal abstract void CopyTo(Database database, string target);

    /// <summary>Puts a checked data file in the place of what is here.</summary>
    /// <param name="file">The data file, which is used up.</param>
    /// <param name="now">When.</param>
    /// <param name="before">Called before every step.</param>
    /// <returns>Where what was here is kept; null when there was nothing.</returns>
    internal abstract string? Replace(string file, DateTimeOffset now, Action<string>? before);

    /// <summary>What a failure of the database means for people; null when it is a fault of the program.</summary>
    internal abstract DataFileException? Meaning(DbException failure);

    /// <summary>Whether a failure to read goes away by a repair.</summary>
    internal virtual bool NeedsRepair(DbException failure) => false;

    /// <summary>Repairs what a reading failed for; nothing may be open meanwhile.</summary>
    internal virtual void Repair()
    {
    }

    /// <summary>An ending with a time in it.</summary>
    internal static string Stamped(string ending, DateTimeOffset now) => ending + now.UtcDateTime.ToString("yyyyMMdd-HHmmss", System.Globalization.CultureInfo.InvariantCulture);
}

using System.Security.Cryptography;
using Tussock.Journal;

namespace Tussock.Store.Bulk;

/// <summary>The name of the data as a device that makes changes.</summary>
internal static class OwnDevice
{
    /// <summary>Gives new data their name.</summary>
    internal static void Name(Database database, DateTimeOffset now) =>
        database.Run(database.Prepared("INSERT INTO file_device (id, device, made_at) VALUES (1, $0, $1)", Uuid.FromTime(now, RandomNumberGenerator.GetBytes(10)).ToString(), now.ToUnixTimeMilliseconds()));
}

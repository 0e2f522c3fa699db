using System.Collections.Immutable;
using System.Data.Common;

namespace Tussock.Store.Bulk;

/// <summary>The passkeys of the file.</summary>
internal sealed class PasskeyList(Database database)
{
    private const string Columns = "id, person, name, data, added_at, used_at";

    internal ImmutableArray<Passkey> Of(Guid person)
    {
        var keys = ImmutableArray.CreateBuilder<Passkey>();
        using var row = database.Query("SELECT " + Columns + " FROM passkey WHERE person = $0 ORDER BY added_at, id", person.ToString());
        while (row.Read()) keys.Add(Read(row));
        return keys.ToImmutable();
    }

    internal Passkey? Named(string id)
    {
        using var row = database.Query("SELECT " + Columns + " FROM passkey WHERE id = $0", id);
        return row.Read() ? Read(row) : null;
    }

    internal void Add(Passkey key) => database.Run(database.Prepared(
        "INSERT INTO passkey (id, person, name, data, added_at, used_at) VALUES ($0, $1, $2, $3, $4, 0)", key.Id, key.Person.ToString(), key.Name, key.Data, key.AddedAt.ToUnixTimeMilliseconds()));

    internal void Used(string id, string data, DateTimeOffset at) => database.Run(database.Prepared("UPDATE passkey SET data = $1, used_at = $2 WHERE id = $0", id, data, at.ToUnixTimeMilliseconds()));

    internal void Remove(string id) => database.Run(database.Prepared("DELETE FROM passkey WHERE id = $0", id));

    internal void RemoveAll(Guid person) => database.Run(database.Prepared("DELETE FROM passkey WHERE person = $0", person.ToString()));

    private static Passkey Read(DbDataReader row) => new(
        row.GetString(0), Guid.Parse(row.GetString(1)), row.GetString(2), row.GetString(3), DateTimeOffset.FromUnixTimeMilliseconds(row.GetInt64(4)),
        row.GetInt64(5) is > 0 and var used ? DateTimeOffset.FromUnixTimeMilliseconds(used) : null);
}

using System.Collections.Immutable;
using System.Data.Common;
using System.Security.Cryptography;
using System.Text.Json;

namespace Tussock.Store.Bulk;

/// <summary>The accounts of the file, and the book of who came in and who changed them.</summary>
internal sealed class PeopleList(Database database)
{
    /// <summary>Strangers can make the book longer by failing; only so many of their lines are kept, and no other line is lost for them.</summary>
    private const int MostOfStrangers = 2000;

    private const string Columns = "id, name, role, properties, added_at, password_hash, stamp";

    internal ImmutableArray<Account> All()
    {
        var people = ImmutableArray.CreateBuilder<Account>();
        using var row = database.Query("SELECT " + Columns + " FROM person ORDER BY name_key");
        while (row.Read()) people.Add(Read(row));
        return people.ToImmutable();
    }

    internal Account? Named(string name)
    {
        using var row = database.Query("SELECT " + Columns + " FROM person WHERE name_key = $0", Person.Key(name));
        return row.Read() ? Read(row) : null;
    }

    internal Account? Of(Guid id)
    {
        using var row = database.Query("SELECT " + Columns + " FROM person WHERE id = $0", id.ToString());
        return row.Read() ? Read(row) : null;
    }

    internal void Add(Person person, string passwordHash) => database.Run(database.Prepared(
        "INSERT INTO person (id, name, name_key, role, properties, password_hash, stamp, added_at) VALUES ($0, $1, $2, $3, $4, $5, $6, $7)",
        person.Id.ToString(), person.Name, Person.Key(person.Name), Token(person.Role), JsonSerializer.Serialize(person.Properties), passwordHash, NewStamp(), person.AddedAt.ToUnixTimeMilliseconds()));

    internal void Change(Guid id, PersonRole role, ImmutableArray<string> properties) =>
        database.Run(database.Prepared("UPDATE person SET role = $1, properties = $2, stamp = $3 WHERE id = $0", id.ToString(), Token(role), JsonSerializer.Serialize(properties), NewStamp()));

    internal void SetPassword(Guid id, string passwordHash) =>
        database.Run(database.Prepared("UPDATE person SET password_hash = $1, stamp = $2 WHERE id = $0", id.ToString(), passwordHash, NewStamp()));

    internal void Remove(Guid id) => database.Run(database.Prepared("DELETE FROM person WHERE id = $0", id.ToString()));

    internal void Write(Witnessed seen)
    {
        database.Run(database.Prepared(
            "INSERT INTO witnessed (at, what, \"by\", whom, detail, address) VALUES ($0, $1, $2, $3, $4, $5)",
            seen.At.ToUnixTimeMilliseconds(), seen.Act.ToString(), seen.By, seen.Whom, seen.Detail, seen.Address));
        if (seen.Act is not (WitnessedAct.SignInFailed or WitnessedAct.ToldToWait)) return;
        database.Run(database.Prepared(
            "DELETE FROM witnessed WHERE what IN ($0, $1) AND id NOT IN (SELECT id FROM witnessed WHERE what IN ($0, $1) ORDER BY id DESC LIMIT $2)",
            nameof(WitnessedAct.SignInFailed), nameof(WitnessedAct.ToldToWait), MostOfStrangers));
    }

    /// <summary>The last lines of the book, newest first; lines of a newer program that this one has no word for are left out.</summary>
    internal ImmutableArray<Witnessed> Book(int most)
    {
        var lines = ImmutableArray.CreateBuilder<Witnessed>();
        using var row = database.Query("SELECT at, what, \"by\", whom, detail, address FROM witnessed ORDER BY id DESC LIMIT $0", most);
        while (row.Read())
        {
            if (Enum.TryParse<WitnessedAct>(row.GetString(1), out var act)) lines.Add(new Witnessed(At(row.GetInt64(0)), act, row.GetString(2), row.GetString(3), row.GetString(4), row.GetString(5)));
        }

        return lines.ToImmutable();
    }

    /// <summary>A role that this program does not know may nothing.</summary>
    private static Account Read(DbDataReader row)
    {
        var properties = JsonSerializer.Deserialize<string[]>(row.GetString(3)) ?? [];
        var role = Enum.GetValues<PersonRole>().Where(r => Token(r) == row.GetString(2)).Select(r => (PersonRole?)r).FirstOrDefault();
        return new Account(new Person(Guid.Parse(row.GetString(0)), row.GetString(1), role ?? PersonRole.Landowner, role is null ? [] : [.. properties], At(row.GetInt64(4))), row.GetString(5), row.GetString(6));
    }

    private static string Token(PersonRole role) => role switch { PersonRole.Lead => "lead", PersonRole.Crew => "crew", PersonRole.Reviewer => "reviewer", _ => "landowner" };

    private static string NewStamp() => Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16));

    private static DateTimeOffset At(long milliseconds) => DateTimeOffset.FromUnixTimeMilliseconds(milliseconds);
}

using System.Collections.Immutable;
using Tussock.Store.Bulk;

namespace Tussock.Store;

/// <content>The passkeys that people sign in with at the desk.</content>
public sealed partial class DataFile
{
    /// <summary>The passkeys of a person, oldest first.</summary>
    public ImmutableArray<Passkey> Passkeys(Guid person) => Reading<ImmutableArray<Passkey>>(d => new PasskeyList(d).Of(person), []);

    /// <summary>The passkey with an id; null when there is none.</summary>
    public Passkey? Passkey(string id) => Reading(d => new PasskeyList(d).Named(id), null);

    /// <summary>Keeps a new passkey, and writes down that it was made.</summary>
    /// <param name="key">The passkey.</param>
    /// <param name="from">Address that it comes from.</param>
    /// <returns>Whether it was kept: not when there is no such person any more, the id is taken, or there are too many.</returns>
    public bool AddPasskey(Passkey key, string from) => Writing(key.AddedAt, database =>
    {
        using var transaction = database.Begin();
        var (people, keys) = (new PeopleList(database), new PasskeyList(database));
        if (people.Of(key.Person) is not { } account || keys.Named(key.Id) is not null || keys.Of(key.Person).Length >= Store.Passkey.Most) return false;
        keys.Add(key);
        people.Write(new Witnessed(key.AddedAt, WitnessedAct.PasskeyAdded, account.Person.Name, account.Person.Name, "", from));
        database.Commit(transaction);
        return true;
    });

    /// <summary>Keeps what a passkey has become by being used.</summary>
    public void UsedPasskey(string id, string data, DateTimeOffset now) => Writing(now, database =>
    {
        using var transaction = database.Begin();
        new PasskeyList(database).Used(id, data, now);
        database.Commit(transaction);
        return 0;
    });

    /// <summary>Forgets a passkey of a person.</summary>
    /// <returns>Whether this person had it.</returns>
    public bool RemovePasskey(string id, Guid person, DateTimeOffset now, string from) => Writing(now, database =>
    {
        using var transaction = database.Begin();
        var (people, keys) = (new PeopleList(database), new PasskeyList(database));
        if (people.Of(person) is not { } account || keys.Named(id)?.Person != person) return false;
        keys.Remove(id);
        people.Write(new Witnessed(now, WitnessedAct.PasskeyRemoved, account.Person.Name, account.Person.Name, "", from));
        database.Commit(transaction);
        return true;
    });
}

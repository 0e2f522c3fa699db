using System.Collections.Immutable;
using Tussock.Store.Bulk;

namespace Tussock.Store;

/// <content>Who may sign in at the desk, and the book of who did and who changed accounts.</content>
public sealed partial class DataFile
{
    /// <summary>Everybody who may sign in, by name.</summary>
    public ImmutableArray<Person> People() => Reading<ImmutableArray<Person>>(d => [.. new PeopleList(d).All().Select(a => a.Person)], []);

    /// <summary>The account of a name, capitals not minded; null when there is none.</summary>
    public Account? Account(string name) => Reading(d => new PeopleList(d).Named(name), null);

    /// <summary>The account with an id; null when there is none any more.</summary>
    public Account? Account(Guid id) => Reading(d => new PeopleList(d).Of(id), null);

    /// <summary>Makes an account, and writes down who did.</summary>
    /// <param name="person">The person.</param>
    /// <param name="passwordHash">What the password hasher made.</param>
    /// <param name="by">Who makes it.</param>
    /// <param name="from">Address that it comes from; empty at the desk itself.</param>
    /// <returns>Whether it was made: not when the name is taken.</returns>
    public bool AddPerson(Person person, string passwordHash, string by, string from = "") => Writing(person.AddedAt, database =>
    {
        using var transaction = database.Begin();
        var people = new PeopleList(database);
        if (people.Named(person.Name) is not null) return false;
        people.Add(person, passwordHash);
        people.Write(new Witnessed(person.AddedAt, WitnessedAct.Added, by, person.Name, person.Role.ToString(), from));
        database.Commit(transaction);
        return true;
    });

    /// <summary>Gives an account another role, or other properties; whoever is signed in with it has to sign in again.</summary>
    /// <returns>Whether there is such an account.</returns>
    public bool ChangePerson(Guid id, PersonRole role, ImmutableArray<string> properties, string by, DateTimeOffset now, string from = "") =>
        Account(id, new Witnessed(now, WitnessedAct.Changed, by, "", role.ToString(), from), people => people.Change(id, role, properties));

    /// <summary>Removes an account; what this person wrote keeps the name.</summary>
    /// <returns>Whether there was such an account.</returns>
    public bool RemovePerson(Guid id, string by, DateTimeOffset now, string from = "") => Account(id, new Witnessed(now, WitnessedAct.Removed, by, "", "", from), people => people.Remove(id), withKeys: true);

    /// <summary>Sets a password; whoever is signed in with the former one has to sign in again.</summary>
    /// <param name="id">Whose.</param>
    /// <param name="passwordHash">What the password hasher made.</param>
    /// <param name="by">Who sets it.</param>
    /// <param name="now">When.</param>
    /// <param name="from">Address that it comes from; empty at the desk itself.</param>
    /// <param name="keepsPasskeys">Whether the passkeys stay: not where somebody else sets the password, because a phone was lost or an account taken over.</param>
    /// <returns>Whether there is such an account.</returns>
    public bool SetPassword(Guid id, string passwordHash, string by, DateTimeOffset now, string from = "", bool keepsPasskeys = false) =>
        Account(id, new Witnessed(now, WitnessedAct.PasswordSet, by, "", "", from), people => people.SetPassword(id, passwordHash), withKeys: !keepsPasskeys);

    /// <summary>Writes a line into the book of accounts.</summary>
    public void Witness(Witnessed seen) => Writing(seen.At, database =>
    {
        using var transaction = database.Begin();
        new PeopleList(database).Write(seen);
        database.Commit(transaction);
        return 0;
    });

    /// <summary>The last lines of the book of accounts, newest first.</summary>
    public ImmutableArray<Witnessed> Book(int most) => Reading(d => new PeopleList(d).Book(most), []);

    private bool Account(Guid id, Witnessed seen, Action<PeopleList> change, bool withKeys = false) => Writing(seen.At, database =>
    {
        using var transaction = database.Begin();
        var people = new PeopleList(database);
        if (people.Of(id) is not { } account) return false;
        change(people);
        if (withKeys) new PasskeyList(database).RemoveAll(id);
        people.Write(seen with { Whom = account.Person.Name });
        database.Commit(transaction);
        return true;
    });
}

using System.Collections.Immutable;
using Tussock.Journal;
using Tussock.Store.Bulk;

namespace Tussock.Store;

/// <content>What phones send, and which phones may.</content>
public sealed partial class DataFile
{
    /// <summary>Takes in changes that were made on other devices: all of them in one transaction, each once, in whatever order they come.</summary>
    /// <param name="changes">The changes; their position is given here.</param>
    /// <param name="now">When.</param>
    /// <param name="from">The paired phone that sends them; null when they come from a file.</param>
    /// <returns>What became of them; it is on disk when this returns.</returns>
    public Received Receive(IReadOnlyList<Change> changes, DateTimeOffset now, Guid? from = null) => Writing(now, database =>
    {
        using var transaction = database.Begin();
        var received = new ChangeIntake(database).Take(changes);
        if (from is { } device) new PhoneList(database).Seen(device, now);
        database.Commit(transaction);
        return received;
    });

    /// <summary>One state of a season for a phone: its tables, and its records with the heads of their values.</summary>
    /// <param name="name">Name of the season.</param>
    /// <param name="cancellation">Stops the work.</param>
    public SeasonState States(string name, CancellationToken cancellation = default) => Reading(
        d =>
        {
            var stored = Stored(d, name, cancellation);
            var reader = new JournalReader(d);
            return new SeasonState(stored.Id, JournalSeason.Tables(stored, cancellation), Fold.Records(reader.OfSeason(stored.Id)), reader.Position);
        },
        null) ?? throw DataFileException.About("empty", home.Name);

    /// <summary>Kinds of records of a season whose changes have come and whose creation has not, one entry a record.</summary>
    public ImmutableArray<string> Waiting(string name) => Reading<ImmutableArray<string>>(d => [.. new JournalReader(d).Waiting(Stored(d, name, default).Id)], []);

    /// <summary>Makes the file ready to be written to: one of an older version is copied beside itself and brought up to date.</summary>
    public void BringUpToDate(DateTimeOffset now) => Writing(now, _ => 0);

    /// <summary>The phones that were paired, oldest first.</summary>
    public ImmutableArray<PairedPhone> Phones() => Reading(d => new PhoneList(d).All(), []);

    /// <summary>The phone with this key; null when there is none.</summary>
    /// <param name="device">The device that it says it is.</param>
    /// <param name="keyHash">SHA-256 of the key that it shows.</param>
    public PairedPhone? Phone(Guid device, byte[] keyHash) => Reading(
        d =>
        {
            var phones = new PhoneList(d);
            return phones.HasKey(device, keyHash) ? phones.All().FirstOrDefault(p => p.Device == device) : null;
        },
        null);

    /// <summary>Lets a phone in.</summary>
    /// <param name="device">Its new id as a device.</param>
    /// <param name="name">Its name for people.</param>
    /// <param name="keyHash">SHA-256 of the key that it gets.</param>
    /// <param name="now">When.</param>
    public void Pair(Guid device, string name, byte[] keyHash, DateTimeOffset now) => Writing(now, database =>
    {
        new PhoneList(database).Add(device, name, keyHash, now);
        return 0;
    });

    /// <summary>Shuts a phone out for good; what it has sent stays.</summary>
    /// <returns>Whether there is such a phone.</returns>
    public bool ShutOut(Guid device, DateTimeOffset now) => Writing(now, database => new PhoneList(database).ShutOut(device, now));
}

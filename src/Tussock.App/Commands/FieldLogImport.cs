using Tussock.Exchange.FieldLog;
using Tussock.Fieldwork;
using Tussock.Journal;
using Tussock.Store;
using Tussock.Store.Media;

namespace Tussock.App.Commands;

/// <summary><c>tussock import DATA phone.jsonl</c>: takes a phone's file in as the network would, as often as it comes.</summary>
internal static class FieldLogImport
{
    internal static bool Is(string source) => source.EndsWith(".jsonl", StringComparison.OrdinalIgnoreCase) && File.Exists(source);

    internal static int Run(Screen screen, string data, string source, CancellationToken cancel)
    {
        var end = FieldLogReader.Check(source);
        var place = new Place(Path.GetFileName(source));
        if (end is FieldLogEnd.OtherFile) return screen.Refuse([new Problem("field_log", Severity.Stop, place, Phrase.Of("field_log.other_file"), Phrase.Of("field_log.other_file_todo"))]);
        if (end is FieldLogEnd.Damaged) return screen.Refuse([new Problem("field_log", Severity.Stop, place, Phrase.Of("field_log.damaged"), Phrase.Of("field_log.damaged_todo"))]);
        var file = DataFile.OpenExisting(data);
        var moved = AnswerMoved.Watch(screen, file, null, cancel);
        var taken = new Taken(file, data, DateTimeOffset.UtcNow);
        foreach (var entry in FieldLogReader.Entries(source))
        {
            cancel.ThrowIfCancellationRequested();
            using (entry) taken.Add(entry.RootElement);
        }

        taken.Flush();
        foreach (var group in taken.Refused.GroupBy(r => screen.Words.Say(r))) screen.Err.WriteLine(screen.Words.Say(Phrase.Of("field_log.refused", ("count", group.Count()), ("why", group.Key))));
        screen.Out.WriteLine(screen.Words.Say(Phrase.Of("field_log.done", ("added", taken.New), ("known", taken.Known), ("photos", taken.Photos))));
        if (taken.New > 0) moved.Say(cancel);
        if (end == FieldLogEnd.CutShort) screen.Err.WriteLine(screen.Words.Say("field_log.cut_short"));
        return taken.Refused.Count > 0 ? Exit.AtFault : Exit.Done;
    }

    /// <summary>Changes by the message, photos one by one.</summary>
    private sealed class Taken(DataFile file, string data, DateTimeOffset now)
    {
        private readonly List<Change> waiting = [];
        private readonly MediaStore media = new(data);

        internal int New { get; private set; }

        internal int Known { get; private set; }

        internal int Photos { get; private set; }

        internal List<Phrase> Refused { get; } = [];

        internal void Add(System.Text.Json.JsonElement entry)
        {
            if (entry.TryGetProperty("media", out _))
            {
                if (FieldLogReader.Media(entry) is { } photo && photo.Bytes.Length <= FieldBundle.MediaBytes && media.Keep(photo.Bytes) is not null) Photos++;
                else Refused.Add(Phrase.Of("field_log.photo_damaged"));
                return;
            }

            if (ChangeJson.Read(entry, now) is { } change) waiting.Add(change);
            else Refused.Add(Phrase.Of("field.refused.unreadable"));
            if (waiting.Count == FieldBundle.ChangesAMessage) Flush();
        }

        internal void Flush()
        {
            if (waiting.Count == 0) return;
            var received = file.Receive(waiting, now);
            New += received.New;
            Known += received.Accepted.Length - received.New;
            Refused.AddRange(received.Refused.Select(r => r.Why));
            waiting.Clear();
        }
    }
}

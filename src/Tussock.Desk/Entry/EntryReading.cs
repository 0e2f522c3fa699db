using System.Collections.Immutable;
using System.Globalization;
using Tussock.Journal;
using Tussock.Records;

namespace Tussock.Desk.Entry;

/// <summary>What a form of a sheet says: changes to write, all of them or none, and what is to be told next to which cell.</summary>
/// <remarks>Nothing is written while something is told, or a date was warned about that nobody has pressed on. Rows that are left empty say nothing.</remarks>
public sealed class EntryReading
{
    private readonly EntrySheet sheet;
    private readonly EntryTyped typed;
    private readonly EntryValues values;
    private readonly Guid season;
    private readonly DateOnly today;
    private readonly Func<Guid, IReadOnlyCollection<Change>> changes;
    private readonly List<Draft> drafts = [];
    private readonly Dictionary<(string Row, string Column), Phrase> told = [];
    private readonly Dictionary<(string Row, string Column), string> texts = [];
    private readonly Dictionary<string, RecordState> bound = new(StringComparer.Ordinal);
    private readonly SortedDictionary<string, Phrase> warned = new(StringComparer.Ordinal);

    private EntryReading(EntrySheet sheet, EntryTyped typed, Func<Guid, IReadOnlyCollection<Change>> changes, Guid season, DateOnly today) =>
        (this.sheet, this.typed, values, this.changes, this.season, this.today) = (sheet, typed, new EntryValues(sheet, typed), changes, season, today);

    /// <summary>The changes, in the order of the sheet; to be written as one batch, and only when <see cref="IsReady"/>.</summary>
    public IReadOnlyList<Draft> Drafts => drafts;

    /// <summary>What is told next to a cell; the head is the row without a name.</summary>
    public IReadOnlyDictionary<(string Row, string Column), Phrase> Told => told;

    /// <summary>Texts that differ from what the records hold, to be shown again.</summary>
    public IReadOnlyDictionary<(string Row, string Column), string> Texts => texts;

    /// <summary>Rows that show another record than the sheet would: the one that they were about, or that is there already.</summary>
    public IReadOnlyDictionary<string, RecordState> Bound => bound;

    /// <summary>Dates that are written only when somebody presses once more.</summary>
    public IEnumerable<Phrase> Warnings => IsSure ? [] : warned.Values;

    /// <summary>The dates warned about, as the form carries them.</summary>
    public string Sure => string.Join(' ', warned.Keys);

    /// <summary>Whether nothing stands in the way of writing.</summary>
    public bool IsReady => told.Count == 0 && IsSure;

    private bool IsSure => warned.Keys.All(typed.Sure.Split(' ').Contains);

    /// <summary>Reads a form.</summary>
    /// <param name="sheet">The sheet as the records stand now.</param>
    /// <param name="typed">What came back.</param>
    /// <param name="changes">All changes of a record.</param>
    /// <param name="season">Id of the season.</param>
    /// <param name="today">Local date of the season.</param>
    public static EntryReading Of(EntrySheet sheet, EntryTyped typed, Func<Guid, IReadOnlyCollection<Change>> changes, Guid season, DateOnly today)
    {
        var reading = new EntryReading(sheet, typed, changes, season, today);
        foreach (var row in sheet.Rows)
        {
            var own = reading.values.Own(row);
            if (ShownRecord.Read(typed.Shown.GetValueOrDefault(row.Key, "")) is { } shown) reading.Edit(row, own, shown);
            else if (own.Values.Any(v => v.Length > 0)) reading.New(row, own);
        }

        return reading;
    }

    private void New(EntryRow row, ImmutableDictionary<string, string> own)
    {
        foreach (var column in row.Columns) Keep(row, column.Name);
        var all = values.WithHead(row, own);
        var date = row.DateColumn.Length > 0 ? all.GetValueOrDefault(row.DateColumn, "") : "";
        if (sheet.Match(row, date) is { } there)
        {
            Meet(row, own, there);
            return;
        }

        var before = told.Count;
        foreach (var (column, text) in all) Check(row, own, column, text);
        if (row.Gist.Length > 0 && !all.ContainsKey(row.Gist)) told[(row.Key, row.Gist)] = Phrase.Of("enter.expect_gist");
        if (row.DateColumn.Length > 0 && date.Length == 0) told[("", row.DateColumn)] = Phrase.Of("reading.expect_date");
        if (told.Count > before) return;
        Warn(row, date);
        var fields = row.Fixed.Concat(row.Columns.Concat(sheet.Head).Select(c => c.Name).Distinct().Where(all.ContainsKey).Select(c => (Column: c, Value: all[c]))).ToArray();
        drafts.Add(new Draft(row.Kind.Name, FreeId(row, fields), ChangeOp.Create, [.. fields.Select(f => new FieldChange(FieldName.OfColumn(f.Column), f.Value, []))], sheet.Name));
    }

    /// <summary>A record of that nest and day is there already: the same says nothing new, anything else is shown beside it.</summary>
    private void Meet(EntryRow row, ImmutableDictionary<string, string> own, RecordState there)
    {
        foreach (var column in row.Columns) texts.Remove((row.Key, column.Name));
        foreach (var column in row.Columns.Where(c => own[c.Name].Length > 0 && !EntryValues.IsSame(row.Kind, c.Name, own[c.Name], EntryRow.Text(there, c.Name))))
        {
            told[(row.Key, column.Name)] = Phrase.Of("enter.there_already", ("there", Quoted(column, EntryRow.Text(there, column.Name))), ("yours", Quoted(column, own[column.Name])));
            Keep(row, column.Name);
        }

        bound[row.Key] = there;
    }

    private void Edit(EntryRow row, ImmutableDictionary<string, string> own, ShownRecord shown)
    {
        if (sheet.There.FirstOrDefault(r => r.Id == shown.Id && row.Is(r)) is not { } now)
        {
            foreach (var column in row.Columns) Keep(row, column.Name);
            told[(row.Key, row.Columns[0].Name)] = Phrase.Of("enter.gone");
            return;
        }

        bound[row.Key] = now;
        var history = changes(now.Id);
        var fields = new List<EditedField>();
        foreach (var column in row.Columns)
        {
            var (was, value) = (shown.Was(column.Name, history), own[column.Name] == EntryColumn.Nothing ? "" : own[column.Name]);
            if (EntryValues.IsSame(row.Kind, column.Name, value, was)) continue;
            Keep(row, column.Name);
            // Sent twice, or somebody else wrote the same: nothing is left to write.
            if (value != EntryRow.Text(now, column.Name)) fields.Add(new EditedField(column.Name, was, value, shown.Of(column.Name)));
        }

        var edit = RecordEdit.Of(row.Kind, now, fields);
        foreach (var (column, expected) in edit.Unreadable) told[(row.Key, column)] = row.Columns.First(c => c.Name == column).Expected(row.Kind, own[column]) ?? expected;
        foreach (var (field, state) in edit.Stale)
        {
            var column = row.Columns.First(c => c.Name == field.Column);
            told[(row.Key, field.Column)] = Phrase.Of("enter.stale", ("yours", Quoted(column, field.Value)), ("was", Quoted(column, field.Was)), ("now", Quoted(column, state?.Value ?? "")));
        }

        if (fields.Any(f => f.Column == row.Gist && f.Value.Length == 0)) told[(row.Key, row.Gist)] = Phrase.Of("enter.expect_gist");
        if (fields.FirstOrDefault(f => f.Column == row.DateColumn) is { } moved)
        {
            if (sheet.Match(row, moved.Value) is not null) told[(row.Key, row.DateColumn)] = Phrase.Of("enter.day_taken");
            Warn(row, moved.Value);
        }

        if (edit.Draft is not null) drafts.Add(edit.Draft with { Source = sheet.Name });
    }

    private void Check(EntryRow row, ImmutableDictionary<string, string> own, string column, string text)
    {
        var isOwn = own.GetValueOrDefault(column, "").Length > 0;
        var known = row.Columns.Concat(sheet.Head).First(c => c.Name == column);
        if (known.Expected(row.Kind, text) is { } expected) told[(isOwn ? row.Key : "", column)] = expected;
    }

    private void Warn(EntryRow row, string text)
    {
        if (Cell.Date(text) is not { } date || warned.ContainsKey(text)) return;
        if (row.Window is not { } window) warned[text] = Phrase.Of("enter.warn_not_set", ("date", date));
        else if (date > today) warned[text] = Phrase.Of("enter.warn_future", ("date", date));
        else if (date.Year != window.On.Year) warned[text] = Phrase.Of("enter.warn_year", ("date", date), ("year", window.On.Year.ToString(CultureInfo.InvariantCulture)));
        else if (!window.Holds(date)) warned[text] = Phrase.Of("enter.warn_window", ("date", date), ("from", window.From), ("to", window.To));
    }

    /// <summary>The id that an import of the same row would give, so that both mean one record; the next one when it is taken.</summary>
    private Guid FreeId(EntryRow row, IEnumerable<(string Column, string Value)> fields)
    {
        var key = NaturalKey.Of(row.Kind.Name, new StoredRecord(Guid.Empty, [.. fields.Select(f => new FieldValue(FieldName.OfColumn(f.Column), f.Value))]));
        for (var n = 1; ; n++)
        {
            var id = NaturalKey.Id(season, row.Kind.Name, key, n);
            if (changes(id).Count == 0 && drafts.TrueForAll(d => d.Record != id)) return id;
        }
    }

    private void Keep(EntryRow row, string column) => texts[(row.Key, column)] = typed.Cell(row, column);

    private static string Quoted(EntryColumn column, string stored) => stored.Length == 0 ? "–" : "“" + column.Shown(stored) + "”";
}

using System.Collections.Immutable;
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
    private readonly Func<Guid, IReadOnlyCollection<Change>> changes;
    private readonly List<Draft> drafts = [];
    private readonly Dictionary<(string Row, string Column), Phrase> told = [];
    private readonly Dictionary<(string Row, string Column), string> texts = [];
    private readonly Dictionary<string, RecordState> bound = new(StringComparer.Ordinal);
    private readonly SortedDictionary<string, Phrase> warned = new(StringComparer.Ordinal);

    private EntryReading(EntrySheet sheet, EntryTyped typed, Func<Guid, IReadOnlyCollection<Change>> changes, Guid season) =>
        (this.sheet, this.typed, values, this.changes, this.season) = (sheet, typed, new EntryValues(sheet, typed), changes, season);

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
    public static EntryReading Of(EntrySheet sheet, EntryTyped typed, Func<Guid, IReadOnlyCollection<Change>> changes, Guid season)
    {
        var reading = new EntryReading(sheet, typed, changes, season);
        foreach (var row in sheet.Rows)
        {
            var own = reading.values.Own(row);
            if (ShownRecord.Read(typed.Shown.GetValueOrDefault(row.Key, "")) is { } shown) reading.Edit(row, own, shown);
            else if (reading.values.IsUsed(row)) reading.New(row, own);
        }

        return reading;
    }

    private void New(EntryRow row, ImmutableDictionary<string, string> own)
    {
        foreach (var column in row.Columns) Keep(row, column.Name);
        var all = values.WithHead(row, own);
        if (sheet.Match(row, all.GetValueOrDefault(row.Apart, "")) is { } there)
        {
            Meet(row, own, there);
            return;
        }

        var before = told.Count;
        foreach (var (column, text) in all) Check(row, own, column, text);
        foreach (var (column, why) in row.Wrong(all)) told.TryAdd((row.Key, column), why);
        Dated(row, all);
        if (told.Count > before) return;
        Warn(row, all.GetValueOrDefault(row.DateColumn, ""));
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

        var before = Said(row, now);
        var after = fields.Aggregate(before, (all, f) => all.SetItem(f.Column, f.Value));
        if (row.IsPlanned && fields.Count > 0)
        {
            var all = values.WithHead(row, after);
            fields.AddRange(all.Where(v => EntryRow.Text(now, v.Key).Length == 0 && fields.TrueForAll(f => f.Column != v.Key)).Select(v => new EditedField(v.Key, "", v.Value, shown.Of(v.Key))).ToArray());
            Dated(row, after = all);
        }

        foreach (var field in fields) Check(row, own, field.Column, field.Value);
        var knew = row.Rule(before).Select(r => r.Column).ToHashSet(StringComparer.Ordinal);
        foreach (var (column, why) in row.Rule(after).Where(r => fields.Count > 0 && (!knew.Contains(r.Column) || row.IsPlanned))) told.TryAdd((row.Key, column), why);
        var edit = RecordEdit.Of(row.Kind, now, fields);
        foreach (var (field, state) in edit.Stale)
        {
            var column = row.Columns.Concat(sheet.Head).First(c => c.Name == field.Column);
            told[(row.Key, field.Column)] = Phrase.Of("enter.stale", ("yours", Quoted(column, field.Value)), ("was", Quoted(column, field.Was)), ("now", Quoted(column, state?.Value ?? "")));
        }

        if (row.Apart.Length > 0 && fields.FirstOrDefault(f => f.Column == row.Apart) is { } moved && sheet.Match(row, moved.Value) is { } other && other.Id != now.Id) told[(row.Key, row.Apart)] = Phrase.Of("enter.place_taken");
        if (fields.FirstOrDefault(f => f.Column == row.DateColumn) is { } dated) Warn(row, dated.Value);
        if (edit.Draft is not null) drafts.Add(edit.Draft with { Source = sheet.Name });
    }

    private void Check(EntryRow row, ImmutableDictionary<string, string> own, string column, string text)
    {
        var isOwn = own.GetValueOrDefault(column, "").Length > 0;
        var known = row.Columns.Concat(sheet.Head).First(c => c.Name == column);
        if (known.Expected(row.Kind, text) is { } expected) told[(isOwn ? row.Key : "", column)] = expected;
    }

    /// <summary>What the record says in the boxes of its row, those of the head among them.</summary>
    private ImmutableDictionary<string, string> Said(EntryRow row, RecordState record) =>
        EntryComparison.Compared(sheet, row).Select(c => (c.Name, Text: EntryRow.Text(record, c.Name))).Where(c => c.Text.Length > 0).ToImmutableDictionary(c => c.Name, c => c.Text, StringComparer.Ordinal);

    private void Dated(EntryRow row, ImmutableDictionary<string, string> all)
    {
        if (row.NeedsDate && all.GetValueOrDefault(row.DateColumn, "").Length == 0) told[("", row.DateColumn)] = Phrase.Of("reading.expect_date");
    }

    private void Warn(EntryRow row, string text)
    {
        if (Cell.Date(text) is { } date && !warned.ContainsKey(text) && row.Odd(date) is { } odd) warned[text] = odd;
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

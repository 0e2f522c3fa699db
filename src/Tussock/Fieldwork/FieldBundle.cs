using System.Buffers;
using System.Collections.Immutable;
using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using Tussock.Evidence;
using Tussock.Fates;
using Tussock.Journal;
using Tussock.Pictures;
using Tussock.Records;
using Tussock.Words;

namespace Tussock.Fieldwork;

/// <summary>Everything a phone takes along, as the document <c>field/1</c>: the records with the heads of their values, words, signs, and what is due.</summary>
/// <remarks>Contract: <c>docs/field-bundle.md</c>. Cost: one pass over the records. May be shared between threads.</remarks>
public sealed class FieldBundle
{
    /// <summary>Name of the contract.</summary>
    public const string Contract = "field/1";

    /// <summary>Most changes in one message.</summary>
    public const int ChangesAMessage = 500;

    /// <summary>Most bytes of a photo or voice note.</summary>
    public const int MediaBytes = 26_214_400;

    /// <summary>Most bytes of one message.</summary>
    public const int MessageBytes = 2_097_152;

    private static readonly JsonWriterOptions Options = new() { Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The kinds of record that a phone gets.</summary>
    public static ImmutableArray<string> Kinds { get; } = ["pastures", "transects", "nests", "visits", "remains", "belts", "crew", "plants", "chance", "media", "events"];

    private readonly ImmutableArray<Catalogue> languages = [.. Catalogue.Languages.Select(l => Catalogue.Of(l)!)];

    /// <summary>Id of the season.</summary>
    public required Guid SeasonId { get; init; }

    /// <summary>The season's tables.</summary>
    public required SeasonTables Tables { get; init; }

    /// <summary>The season's records; void and waiting ones are left out here.</summary>
    public required ImmutableArray<RecordState> Records { get; init; }

    /// <summary>Position of the journal that all this stands at.</summary>
    public required long Position { get; init; }

    /// <summary>Cases from here to practise on.</summary>
    public FieldCases FromHere { get; init; } = FieldCases.None;

    /// <summary>Whether the views of these cases stand in the document itself: in a file, which cannot ask for them.</summary>
    public bool HoldsViews { get; init; }

    /// <summary>The document as UTF-8.</summary>
    /// <param name="madeAt">When it was made; the rest does not depend on it.</param>
    public ReadOnlyMemory<byte> Utf8(DateTimeOffset madeAt)
    {
        var buffer = new ArrayBufferWriter<byte>(1 << 16);
        using (var w = new Utf8JsonWriter(buffer, Options)) Write(w, madeAt);
        return buffer.WrittenMemory;
    }

    private void Write(Utf8JsonWriter w, DateTimeOffset madeAt)
    {
        var season = ReadableSeason.Of(Tables);
        w.WriteStartObject();
        w.WriteString("contract", Contract);
        w.WriteNumber("position", Position);
        w.WriteString("made_at", madeAt.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", CultureInfo.InvariantCulture));
        w.WriteBoolean("exact_places", true);
        w.WritePropertyName("season");
        FieldRules.Write(w, SeasonId, Tables, languages[0]);
        WriteLanguages(w);
        w.WriteStartObject("records");
        foreach (var kind in Kinds) WriteRecords(w, kind);
        w.WriteEndObject();
        FieldWays.Write(w, season, Say, languages[0]);
        FieldDue.Write(w, season, Say);
        WriteSigns(w);
        FieldPractice.Write(w, SeasonId, FromHere, Say);
        if (HoldsViews && !FromHere.Cases.IsEmpty)
        {
            w.WriteStartObject("practice_views");
            FromHere.WriteViews(w);
            w.WriteEndObject();
        }

        WritePhrases(w);
        w.WriteStartObject("limits");
        w.WriteNumber("changes_a_message", ChangesAMessage);
        w.WriteNumber("media_bytes", MediaBytes);
        w.WriteNumber("message_bytes", MessageBytes);
        w.WriteEndObject();
        w.WriteEndObject();
    }

    private void WriteLanguages(Utf8JsonWriter w)
    {
        w.WriteStartArray("languages");
        foreach (var language in languages) w.WriteStringValue(language.Language);
        w.WriteEndArray();
        w.WriteStartObject("words");
        foreach (var language in languages)
        {
            w.WriteStartObject(language.Language);
            foreach (var key in language.Keys.Where(FieldWords.IsForPhones)) w.WriteString(key, language.Template(key));
            w.WriteEndObject();
        }

        w.WriteEndObject();
    }

    private void WriteRecords(Utf8JsonWriter w, string kind)
    {
        w.WriteStartArray(kind);
        foreach (var record in Records.Where(r => r.Kind == kind && r.IsCreated && r.Field(FieldName.Void)?.Value != "yes")) WriteRecord(w, record);
        w.WriteEndArray();
    }

    private static void WriteRecord(Utf8JsonWriter w, RecordState record)
    {
        var fields = record.Fields.Where(f => f.Name != FieldName.Row).ToArray();
        var changes = new Dictionary<Guid, int>();
        foreach (var head in fields.SelectMany(f => f.Heads)) changes.TryAdd(head.Change, changes.Count);
        w.WriteStartObject();
        w.WriteString("id", record.Id);
        w.WriteStartArray("changes");
        foreach (var change in changes.Keys) w.WriteStringValue(change);
        w.WriteEndArray();
        w.WriteStartObject("fields");
        foreach (var field in fields)
        {
            w.WriteStartArray(field.Name);
            w.WriteStringValue(field.Value);
            foreach (var head in field.Heads) w.WriteNumberValue(changes[head.Change]);
            w.WriteEndArray();
        }

        w.WriteEndObject();
        w.WriteEndObject();
    }

    private void WriteSigns(Utf8JsonWriter w)
    {
        w.WriteStartArray("signs");
        foreach (var sign in SignCatalogue.Standard.Signs)
        {
            w.WriteStartObject();
            w.WriteString("sign", sign.Sign);
            w.WriteString("kind", sign.Kind == SignKind.Choice ? "choice" : "number");
            Say(w, "name", sign.Name);
            Say(w, "look", sign.Look);
            w.WriteStartArray("values");
            foreach (var value in sign.Values) WriteValue(w, value, sign.InWords(value), SignPicture.Of(sign, value, languages[0]));
            if (sign.Kind == SignKind.Choice) WriteValue(w, SignCatalogue.NotLooked, Phrase.Of("signs.not_looked"), null);
            w.WriteEndArray();
            w.WriteEndObject();
        }

        w.WriteEndArray();
    }

    private void WriteValue(Utf8JsonWriter w, string value, Phrase name, string? picture)
    {
        w.WriteStartObject();
        w.WriteString("value", value);
        Say(w, "name", name);
        w.WriteString("picture", picture);
        w.WriteEndObject();
    }

    private void WritePhrases(Utf8JsonWriter w)
    {
        WriteTokens(w, "culprits", FieldWords.Culprits);
        w.WriteStartObject("phrases");
        w.WriteStartArray("landmarks");
        foreach (var landmark in FieldWords.Landmarks) Say(w, null, landmark);
        w.WriteEndArray();
        WriteTokens(w, "not_found_because", FieldWords.NotFoundBecause);
        WriteTokens(w, "other_loss_causes", FieldWords.OtherLossCauses);
        w.WriteEndObject();
        w.WriteStartArray("cautions");
        foreach (var caution in FieldWords.Cautions)
        {
            w.WriteStartObject();
            w.WriteString("where", caution.Where);
            Say(w, "text", caution.Text);
            w.WriteEndObject();
        }

        w.WriteEndArray();
    }

    private void WriteTokens(Utf8JsonWriter w, string name, ImmutableArray<FieldToken> tokens)
    {
        w.WriteStartArray(name);
        foreach (var token in tokens)
        {
            w.WriteStartObject();
            w.WriteString("token", token.Token);
            Say(w, "name", token.Name);
            w.WriteEndObject();
        }

        w.WriteEndArray();
    }

    /// <summary>A phrase in every language.</summary>
    private void Say(Utf8JsonWriter w, string? name, Phrase phrase)
    {
        if (name is not null) w.WritePropertyName(name);
        w.WriteStartObject();
        foreach (var language in languages) w.WriteString(language.Language, language.Say(phrase));
        w.WriteEndObject();
    }
}

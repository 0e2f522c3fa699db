using System.Text.Encodings.Web;
using System.Text.Json;
using Tussock.Words;

namespace Tussock.Results;

/// <summary>Writes the parts that every document has: estimates, answers, reasons. Never NaN: a number that can't be had is null with its reason.</summary>
internal sealed class JsonText(Utf8JsonWriter writer, Catalogue words)
{
    /// <summary>How documents are laid out.</summary>
    internal static readonly JsonWriterOptions Options = new() { Indented = true, IndentSize = 1, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    internal Utf8JsonWriter Writer => writer;

    internal string Say(Phrase phrase) => words.Say(phrase);

    internal string Sentence(Phrase phrase) => Results.Sentences.Sentence(words.Say(phrase));

    internal void Sentences(string name, IEnumerable<Phrase> said) => Array(name, said, p => writer.WriteStringValue(Sentence(p)));

    /// <summary>What a document was made with.</summary>
    internal void Made(MadeWith made) => Object("made_with", () =>
    {
        writer.WriteString("version", made.Version);
        writer.WriteNumber("seed", made.Seed);
        writer.WriteString("at", made.At);
    });

    internal void Array<T>(string name, IEnumerable<T> items, Action<T> write)
    {
        writer.WriteStartArray(name);
        foreach (var item in items) write(item);
        writer.WriteEndArray();
    }

    internal void Object(string name, Action write)
    {
        writer.WriteStartObject(name);
        write();
        writer.WriteEndObject();
    }

    internal void Item(Action write)
    {
        writer.WriteStartObject();
        write();
        writer.WriteEndObject();
    }

    internal void Estimate(string name, Estimate e)
    {
        writer.WritePropertyName(name);
        Estimate(e);
    }

    internal void Estimate(Estimate e)
    {
        writer.WriteStartObject();
        Number("estimate", e.Value);
        Number("low", e.Low);
        Number("high", e.High);
        writer.WriteNumber("level", e.Level);
        writer.WriteString("method", e.Method);
        Number("se", e.Se);
        if (e.Why is not null || !e.Notes.IsEmpty) writer.WriteString("why", string.Join(" ", (e.Why is { } why ? e.Notes.Insert(0, why) : e.Notes).Select(p => Results.Sentences.Sentence(words.Say(p)))));
        writer.WriteEndObject();
    }

    /// <summary>A scalar x: its value, or null and the reason in x_why.</summary>
    internal void Answer(string name, Answer<double> answer)
    {
        if (answer.HasValue)
        {
            writer.WriteNumber(name, answer.Value);
            return;
        }

        writer.WriteNull(name);
        writer.WriteString(name + "_why", words.Say(answer.Why));
    }

    internal void Number(string name, double? x)
    {
        if (x is { } value) writer.WriteNumber(name, value);
        else writer.WriteNull(name);
    }

    internal void Text(string name, string? text)
    {
        if (text is null) writer.WriteNull(name);
        else writer.WriteString(name, text);
    }
}

using Tussock.Actions;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.App.Commands;

/// <summary>A before–after–control contrast as text.</summary>
internal static class ActionText
{
    internal static void Write(BeforeAfterControl contrast, Catalogue words, TextWriter output)
    {
        void Line(Phrase phrase, string before = "  ") => output.WriteLine(before + Sentences.Sentence(words.Say(phrase)));
        output.WriteLine(words.Say(Phrase.Of("action.title", ("kind", Phrase.Of("years.event." + contrast.Kind)))));
        foreach (var phrase in contrast.First) Line(phrase, "! ");
        foreach (var year in contrast.Treated.GroupBy(t => t.FromYear, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal))
            Line(Phrase.Of("action.text_with", ("year", year.Key!), ("lands", year.Select(l => l.Name(contrast.HasSeveralProperties)).ToArray())));
        Line(Phrase.Of("action.text_without", ("lands", contrast.Untreated.Select(l => l.Name(contrast.HasSeveralProperties)).ToArray()), ("years", contrast.Years.ToArray())));
        foreach (var phrase in ActionAnswer.Of(contrast)) Line(phrase);
        output.WriteLine();
        output.WriteLine(words.Say("action.text_must_hold"));
        foreach (var phrase in contrast.MustHold) Line(phrase, "- ");
        if (contrast.Cautions.IsEmpty) return;
        output.WriteLine();
        output.WriteLine(words.Say("action.text_cautions"));
        foreach (var phrase in contrast.Cautions) Line(phrase, "- ");
    }
}

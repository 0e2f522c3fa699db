using Tussock.Actions;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.App.Commands;

/// <summary>A before–after–control contrast as text.</summary>
internal static class ActionText
{
    internal static void Write(BeforeAfterControl contrast, Catalogue words, TextWriter output)
    {
        var page = new TextPage(words, output);
        output.WriteLine(words.Say(Phrase.Of("action.title", ("kind", Phrase.Of("years.event." + contrast.Kind)))));
        foreach (var phrase in contrast.First) page.Line(phrase, "! ");
        foreach (var year in contrast.Treated.GroupBy(t => t.FromYear, StringComparer.Ordinal).OrderBy(g => g.Key, StringComparer.Ordinal))
            page.Line(Phrase.Of("action.text_with", ("year", year.Key!), ("lands", year.Select(l => l.Name(contrast.HasSeveralProperties)).ToArray())), "  ");
        page.Line(Phrase.Of("action.text_without", ("lands", contrast.Untreated.Select(l => l.Name(contrast.HasSeveralProperties)).ToArray()), ("years", contrast.Years.ToArray())), "  ");
        foreach (var phrase in ActionAnswer.Of(contrast)) page.Line(phrase, "  ");
        output.WriteLine();
        output.WriteLine(words.Say("action.text_must_hold"));
        foreach (var phrase in contrast.MustHold) page.Line(phrase, "- ");
        if (contrast.Cautions.IsEmpty) return;
        output.WriteLine();
        output.WriteLine(words.Say("action.text_cautions"));
        foreach (var phrase in contrast.Cautions) page.Line(phrase, "- ");
    }
}

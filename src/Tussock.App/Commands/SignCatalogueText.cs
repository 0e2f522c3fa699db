using Tussock.Evidence;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.App.Commands;

/// <summary>The catalogue of signs with its rules and sources as a page of text.</summary>
internal static class SignCatalogueText
{
    internal static void Write(SignCatalogue catalogue, Catalogue words, TextWriter output)
    {
        output.WriteLine(Sentences.Sentence(words.Say("signs.caution.rules")));
        foreach (var sign in catalogue.Signs)
        {
            output.WriteLine();
            output.WriteLine(words.Say(sign.Name) + " (" + sign.Sign + "): " + words.Say(sign.Look));
            if (!sign.Values.IsEmpty) output.WriteLine("  " + string.Join(" · ", sign.Values.Select(v => words.Say(sign.InWords(v)))));
            output.WriteLine("  " + words.Say(Phrase.Of("signs.text.source", ("source", sign.Source))));
            foreach (var rule in catalogue.Rules.Where(r => r.Sign == sign.Sign))
            {
                output.WriteLine("  " + words.Say(Phrase.Of("signs.text.rule", ("value", sign.InWords(rule.Value)), ("culprit", Phrase.Of("signs.culprit." + rule.Culprit)), ("count", rule.Count), ("source", rule.Source))));
            }
        }

        output.WriteLine();
        output.WriteLine(words.Say(Phrase.Of("signs.text.weights", ("sign", catalogue.SignWeight), ("culprit", catalogue.CulpritWeight), ("other", catalogue.NotOnTheList))));
    }
}

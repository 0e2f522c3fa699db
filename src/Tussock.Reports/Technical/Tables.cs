using Tussock.Reports.Print;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.Reports.Technical;

/// <summary>Tables of the technical report, and numbers as their cells show them.</summary>
internal static class Tables
{
    /// <summary>Pictures of one kind, so that the report of a large season can still be read.</summary>
    internal const int MostPictures = 30;

    private const int NamesSaid = 6;

    /// <summary>The first of many, with a sentence that says so; all where they are few.</summary>
    internal static IEnumerable<T> First<T>(Html html, IEnumerable<T> things, int most = MostPictures)
    {
        var all = things.ToArray();
        if (all.Length > most) html.Paragraph(Phrase.Of("technical.first_only", ("shown", most), ("all", all.Length)));
        return all.Take(most);
    }

    /// <summary>A table: heads are catalogue keys, the first column names the row.</summary>
    internal static void Write(Html html, string[] heads, IEnumerable<string[]> rows, string attributes = "")
    {
        var all = rows.ToArray();
        if (all.Length == 0) return;
        html.Open("table", attributes).Open("thead").Open("tr");
        foreach (var head in heads) html.Element("th", html.Words.Say(head), "scope=\"col\"");
        html.Close("tr").Close("thead").Open("tbody");
        foreach (var row in all)
        {
            html.Open("tr").Element("th", row[0], "scope=\"row\"");
            foreach (var cell in row.Skip(1)) html.Element("td", cell);
            html.Close("tr");
        }

        html.Close("tbody").Close("table");
    }

    /// <summary>Heads or cells of columns that say the same in different units: those of the units that were chosen.</summary>
    internal static IEnumerable<string> InUnits(Html html, params (UnitChoice Of, string Text)[] columns) => columns.Where(c => html.Words.Units == UnitChoice.Both || html.Words.Units == c.Of).Select(c => c.Text);

    internal static string Daily(Estimate e) => EstimateText.With(e, x => Numbers.Fixed(x, 4), x => Numbers.Fixed(x, 4));

    internal static string Chance(Html html, Answer<double> chance) => chance.HasValue ? html.Say(Sentences.ChanceInWords(chance.Value)) : "–";

    /// <summary>What must be said beside an estimate, as sentences.</summary>
    internal static IEnumerable<string> Said(Html html, Estimate e)
    {
        if (e.Why is { } why) yield return Sentences.Sentence(html.Say(why));
        foreach (var note in e.Notes) yield return Sentences.Sentence(html.Say(note));
    }

    /// <summary>Notes of several groups as a list, each with its group's name; equal notes are said once.</summary>
    internal static void Notes(Html html, IEnumerable<(string Name, IEnumerable<string> Notes)> notes)
    {
        var said = notes.SelectMany(n => n.Notes.Select(text => (n.Name, text))).GroupBy(n => n.text, StringComparer.Ordinal).Select(g => Names(html, [.. g.Select(n => n.Name).Distinct(StringComparer.Ordinal)]) + ": " + g.Key);
        html.List(said, "class=\"notes\"");
    }

    private static string Names(Html html, string[] names) => names.Length <= NamesSaid
        ? string.Join(", ", names)
        : html.Say(Phrase.Of("technical.names_and_more", ("names", string.Join(", ", names.Take(NamesSaid))), ("more", names.Length - NamesSaid)));
}

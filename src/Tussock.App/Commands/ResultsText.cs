using Spectre.Console;
using Tussock.Results;
using Tussock.Verdicts;
using Tussock.Words;

namespace Tussock.App.Commands;

/// <summary>The answer as a page of text: verdicts first, then the tables.</summary>
internal static class ResultsText
{
    internal static void Write(SeasonResults results, Catalogue words, TextWriter output)
    {
        output.WriteLine(results.Season.Settings.Title);
        if (results.Season.Tables.Pooled is { } pooled) foreach (var said in PooledSentences.Of(pooled)) output.WriteLine(words.Say(said));
        foreach (var row in results.Verdicts) Verdict(row, results, words, output);
        output.WriteLine();
        var page = new TextPage(words, output);
        page.Write(Groups(results, words, page));
        if (!results.Densities.IsEmpty) page.Write(Densities(results, words, page));
        if (!results.CoverComparisons.IsEmpty) page.Write(Comparisons(results, words, page));
        foreach (var runs in results.Runs.Where(r => r.Level == GroupLevel.Season))
        {
            output.WriteLine(Sentences.Sentence(words.Say(runs.Runs.HasValue
                ? Phrase.Of("text.runs", ("day", runs.Check), ("runs", runs.Runs.Value.Runs), ("expected", runs.Runs.Value.Expected), ("p", runs.Runs.Value.P))
                : Phrase.Of("text.runs_why", ("day", runs.Check), ("why", runs.Runs.Why)))));
        }

        output.WriteLine();
        output.WriteLine(words.Say("text.index"));
    }

    private static void Verdict(VerdictRow row, SeasonResults results, Catalogue words, TextWriter output)
    {
        output.WriteLine();
        var name = row.Pasture is null ? row.Property : row.Property + ", " + row.Pasture.Name;
        output.WriteLine(words.Say(Phrase.Of("text.verdict", ("name", name), ("verdict", row.Verdict.InWords))));
        void Line(Phrase? phrase)
        {
            if (phrase is not null) output.WriteLine("  " + Sentences.Sentence(words.Say(phrase)));
        }

        Line(Sentences.Count(row.Group, results.Trial));
        if (row.Group.Day28.Value is not null) Line(Sentences.Interval(row.Group.Day28));
        if (row.Group.Day28.Value is null && row.Group.TwoPieceDay28.Value is not null) Line(Phrase.Of("text.two_piece_headline", ("estimate", EstimateText.Share(row.Group.TwoPieceDay28))));
        else if (row.Group.WhyTwoPieceBeside is { } beside) Line(Phrase.Of("text.two_piece", ("why", beside), ("estimate", EstimateText.Share(row.Group.TwoPieceDay28))));
        Line(Sentences.NotToSay(row.Group, results.Trial));
        Line(Sentences.Unknown(row.Group));
        foreach (var ended in Sentences.EndedWatching(row.Group)) Line(ended);
        foreach (var because in Sentences.Because(row.Verdict, words)) output.WriteLine("  " + because);
    }

    private static Table Groups(SeasonResults results, Catalogue words, TextPage page)
    {
        var table = page.Table("text.group", "text.nests", "text.lines", "text.intact", "text.lost", "text.unknown", "text.share", "text.two_piece_short", "text.chance");
        foreach (var g in results.Groups.Where(g => g.Level is not (GroupLevel.Transect or GroupLevel.Property)))
        {
            table.AddRow(Escaped(Indent(g.Level) + g.Name), Numbers.Whole(g.Counts.Nests), Numbers.Whole(g.Lines), Numbers.Whole(g.Counts.Intact), Numbers.Whole(g.Counts.Lost), Numbers.Whole(g.Counts.Unknown),
                EstimateText.Share(g.Day28), EstimateText.Share(g.TwoPieceDay28), g.ChanceAtLeastBenchmark.HasValue ? Escaped(words.Say(Sentences.ChanceInWords(g.ChanceAtLeastBenchmark.Value))) : "–");
        }

        return table;
    }

    private static Table Densities(SeasonResults results, Catalogue words, TextPage page)
    {
        var table = page.Table("text.density_of", "text.cover", "text.clumps", "text.per_acre", "text.per_ha", "text.chance");
        foreach (var d in results.Densities.Where(d => d.Level is GroupLevel.Season or GroupLevel.Pasture))
        {
            table.AddRow(Escaped(Indent(d.Level) + d.Name), Escaped(d.Cover ?? words.Say("text.all")), Numbers.Short(d.Density.Clumps), EstimateText.Amount(d.Density.PerAcre), EstimateText.Amount(d.Density.PerHa),
                d.Cover is null && d.Density.ChanceAtLeastBenchmark.HasValue ? Escaped(words.Say(Sentences.ChanceInWords(d.Density.ChanceAtLeastBenchmark.Value))) : "–");
        }

        return table;
    }

    private static Table Comparisons(SeasonResults results, Catalogue words, TextPage page)
    {
        var table = page.Table("text.comparison", "text.where", "text.survival_ratio", "text.odds_ratio");
        foreach (var c in results.CoverComparisons) table.AddRow(Escaped(c.Other + " : " + c.Reference), Escaped(c.Pasture ?? words.Say("text.whole_season")), EstimateText.Ratio(c.Comparison.SurvivalRatio), EstimateText.Ratio(c.Comparison.OddsRatio));
        return table;
    }

    private static string Indent(GroupLevel level) => level switch { GroupLevel.Season => "", GroupLevel.PastureCover => "    ", _ => "  " };

    private static string Escaped(string text) => Markup.Escape(text);
}

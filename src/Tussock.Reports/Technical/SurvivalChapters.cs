using System.Text.Json;
using Tussock.Pictures;
using Tussock.Reports.Landowner;
using Tussock.Reports.Print;
using Tussock.Results;
using Tussock.Verdicts;
using Tussock.Words;

namespace Tussock.Reports.Technical;

/// <summary>Verdicts and survival: shares, curves, daily survival, causes, chances.</summary>
internal sealed class SurvivalChapters(Html html, ReportNumbers numbers)
{
    private const int MostLines = 200;
    private readonly SeasonResults results = numbers.Results;

    private double Benchmark => results.Season.Settings.SurvivalBenchmark;

    /// <summary>Season, properties where there are several, pastures.</summary>
    private IEnumerable<ReportGroup> Main => numbers.Groups.Where(g => g.Group.Counts.Nests > 0 && (g.Group.Level != GroupLevel.Property || HasProperties));

    private bool HasProperties => results.Season.Pastures.Select(p => p.Property).Distinct(StringComparer.Ordinal).Skip(1).Any();

    internal void Verdicts()
    {
        foreach (var verdict in numbers.Verdicts)
        {
            var says = new PastureWords(verdict, results, html.Words);
            html.Open("article").Element("h3", Phrase.Of("report.verdict", ("name", verdict.Row.Pasture is null ? says.Name : verdict.Row.Property + ", " + says.Name), ("verdict", verdict.Row.Verdict.InWords)));
            html.Paragraph(Sentences.Count(verdict.Row.Group, results.Trial)).Paragraph(Sentences.Chance(verdict.Row.Group.ChanceAtLeastBenchmark, Benchmark));
            html.List(Sentences.Because(verdict.Row.Verdict, html.Words)).Paragraph(Sentences.Leaning(verdict.Row.Verdict, Benchmark)).Paragraph(Sentences.MoreLines(verdict.Row, results.Trial)).Paragraph(says.Another);
            html.Close("article");
        }

        if (results.Season.Settings.Comment.Length > 0) html.Element("h3", html.Words.Say("report.comment")).Element("p", results.Season.Settings.Comment);
    }

    internal void Shares()
    {
        var groups = results.Groups.Where(g => g.Counts.Nests > 0 && g.Level != GroupLevel.Transect && (g.Level != GroupLevel.Property || HasProperties)).ToArray();
        html.Paragraph(Phrase.Of("report.shares_intro", ("benchmark", Benchmark), ("days", results.Trial.Days)));
        html.Picture(ShareChart.Draw(html.Say(Phrase.Of("report.shares_title", ("days", results.Trial.Days))), [.. Tables.First(html, groups, 2 * Tables.MostPictures).Select(g => Row(g, g.Day28, g.Counts.Intact, g.Counts.FateKnown))], Benchmark, html.Words));
        Tables.Write(html, ["text.group", "text.nests", "text.lines", "text.intact", "text.lost", "text.unknown", "text.share", "report.col.posterior", "report.col.if_lost", "report.col.if_survived"],
            groups.Select(g => (string[])[Name(g), Numbers.Whole(g.Counts.Nests), Numbers.Whole(g.Lines), Numbers.Whole(g.Counts.Intact), Numbers.Whole(g.Counts.Lost), Numbers.Whole(g.Counts.Unknown), EstimateText.Share(g.Day28), EstimateText.Share(g.Day28Posterior), Percent(g.Day28IfUnknownLost), Percent(g.Day28IfUnknownSurvived)]), "class=\"short\"");
        Tables.Notes(html, groups.Select(g => (Name(g), Tables.Said(html, g.Day28).Concat(Sentences.EndedWatching(g).Select(html.Say)))));
        html.Element("h3", Phrase.Of("report.first_check", ("day", results.Trial.FirstCheck)));
        html.Picture(ShareChart.Draw(html.Say(Phrase.Of("report.shares_title", ("days", results.Trial.FirstCheck))), [.. Tables.First(html, groups.Where(g => g.Level is not GroupLevel.PastureCover), 2 * Tables.MostPictures).Select(g => new ShareRow(Name(g), "", Dot.Of(g.Day14), Shape(g)))], null, html.Words));
        html.Element("h3", html.Words.Say("report.by_line"));
        Tables.Write(html, ["report.col.line", "report.col.pasture", "text.nests", "text.intact", "text.lost", "text.unknown", "text.share"], Tables.First(html, results.Groups.Where(g => g.Level == GroupLevel.Transect && g.Counts.Nests > 0)
            .OrderBy(g => g.Property, StringComparer.Ordinal).ThenBy(g => g.Pasture, StringComparer.Ordinal).ThenBy(g => g.Name, NaturalOrder.Names), MostLines)
            .Select(g => (string[])[g.Name, g.Pasture ?? "", Numbers.Whole(g.Counts.Nests), Numbers.Whole(g.Counts.Intact), Numbers.Whole(g.Counts.Lost), Numbers.Whole(g.Counts.Unknown), g.Day28.Value is { } share ? Numbers.Percent(share) : "–"]));
    }

    internal void TwoNumbers()
    {
        html.Paragraph(Phrase.Of("report.two_intro", ("day", results.Trial.FirstCheck)));
        Tables.Write(html, ["text.group", "text.share", "text.two_piece_short", "report.col.why_beside"], Main.Select(g => (string[])[Name(g.Group), EstimateText.Share(g.Group.Day28), EstimateText.Share(g.Group.TwoPieceDay28), g.Group.WhyTwoPieceBeside is { } why ? html.Say(why) : "–"]));
        Tables.Notes(html, Main.Select(g => (Name(g.Group), Tables.Said(html, g.Group.TwoPieceDay28))));
    }

    internal void Yardsticks()
    {
        using var json = JsonDocument.Parse(Sheet.Resource("technical/published.json"));
        var published = json.RootElement.EnumerateArray().Select(p => (Range: new PublishedRange(p.GetProperty("name").GetString()!, p.GetProperty("low").GetDouble(), p.GetProperty("high").GetDouble()), Source: p.GetProperty("source").GetString()!)).ToArray();
        html.Paragraph(Phrase.Of("report.yardstick_intro", ("benchmark", Benchmark)));
        var season = results.Whole;
        html.Picture(Yardstick.Draw(Name(season), Dot.Of(season.Day28.Value is null ? season.TwoPieceDay28 : season.Day28), Benchmark, [.. published.Select(p => p.Range)], html.Words));
        html.Paragraph(Phrase.Of("technical.yardstick_index"), "class=\"caution\"").List(published.Select(p => p.Range.Name + " (" + (p.Range.Low == p.Range.High ? Numbers.Percent(p.Range.Low) : Numbers.PercentRange(p.Range.Low, p.Range.High)) + "): " + Sentences.Sentence(p.Source)), "class=\"notes\"");
    }

    internal void Curves()
    {
        // Last checks may come late by the window: a curve cut at the trial's last day would hide the losses that they found.
        var end = results.Trial.Days + results.Trial.Window;
        html.Paragraph(Phrase.Of("report.curve_intro"));
        foreach (var group in Tables.First(html, Main))
        {
            html.Open("article").Element("h3", Name(group.Group));
            if (!group.Group.Curve.HasValue) html.Paragraph(group.Group.Curve.Why);
            else html.Picture(CurveChart.Draw(CurveChart.PiecesOf(group.Group.Curve.Value, end, group.Band), [.. results.Season.Settings.CheckDays.Select(d => (double)d)], Benchmark, end, html.Words));
            html.List(group.Band.SelectMany(b => Tables.Said(html, b.Survival)).Distinct(StringComparer.Ordinal).Take(3), "class=\"notes\"").Close("article");
        }
    }

    internal void Daily()
    {
        html.Paragraph(Phrase.Of("report.daily_intro", ("days", results.Trial.Days)));
        Tables.Write(html, ["text.group", "report.col.daily", "report.col.exposure", "report.col.before", "report.col.after", "technical.col.if_even"], DailyRow.Of(Main, results.Trial).Select(r => (string[])[Name(r.Group.Group), Tables.Daily(r.Group.Group.DailySurvival), Tables.Daily(r.Group.Exposure), .. r.Group.Group.DailySurvivalByFortnight.Take(2).Select(Tables.Daily), EstimateText.Share(r.IfEven)]));
        html.Paragraph(Phrase.Of("technical.if_even", ("days", results.Trial.Days)));
        Tables.Notes(html, Main.Select(g => (Name(g.Group), Tables.Said(html, g.Group.DailySurvival).Concat(Tables.Said(html, g.Exposure)).Concat(g.Group.DailySurvivalByFortnight.SelectMany(f => Tables.Said(html, f))))));
    }

    internal void Causes()
    {
        foreach (var verdict in Tables.First(html, numbers.Verdicts))
        {
            var says = new PastureWords(verdict, results, html.Words);
            html.Open("article").Element("h3", says.Name).Paragraph(says.LossesInWords).Paragraph(says.NotKnown);
            if (says.Losses.All > 0) html.Picture(LossSplit.Draw(says.Losses, html.Words));
            html.Close("article");
        }

        html.Element("h3", html.Words.Say("report.incidence")).Paragraph(Phrase.Of("report.incidence_intro", ("days", results.Trial.Days)));
        Tables.Write(html, ["text.group", "report.col.incidence", "report.col.predation_only"], Main.Select(g => (string[])[Name(g.Group), Incidence(g), EstimateText.Share(g.Group.PredationOnly)]));
        Tables.Notes(html, Main.Select(g => (Name(g.Group), Tables.Said(html, g.Group.PredationOnly))));
    }

    internal void Chances()
    {
        html.Paragraph(Phrase.Of("report.chance_intro", ("benchmark", Benchmark)));
        var groups = Main.Where(g => g.Group.Posterior.HasValue).Select(g => g.Group).ToArray();
        if (groups.Length > 0)
        {
            var others = groups[0].Posterior.Value.OtherPriors.Select(p => p.Prior).ToArray();
            html.Open("table", "class=\"short\"").Open("thead").Open("tr").Element("th", html.Words.Say("text.group")).Element("th", html.Words.Say("report.col.chance"));
            foreach (var prior in others) html.Element("th", Phrase.Of("report.col.prior", ("prior", html.Words.Has("report.prior." + prior) ? html.Words.Say("report.prior." + prior) : prior)));
            html.Close("tr").Close("thead").Open("tbody");
            foreach (var g in groups)
            {
                html.Open("tr").Element("th", Name(g), "scope=\"row\"").Element("td", Tables.Chance(html, g.ChanceAtLeastBenchmark));
                foreach (var (_, chance) in g.Posterior.Value.OtherPriors) html.Element("td", Tables.Chance(html, chance));
                html.Close("tr");
            }

            html.Close("tbody").Close("table");
        }

        Tables.Write(html, ["report.col.pasture", "report.col.more", "report.col.another"], numbers.Verdicts.Select(v =>
        {
            var says = new PastureWords(v, results, html.Words);
            return (string[])[says.Name, string.Join(" ", says.Settling().Select(s => Sentences.Sentence(html.Say(s)))), says.Another is { } another ? html.Say(another) : "–"];
        }));
    }

    private string Name(GroupResults group) => group.Level switch
    {
        GroupLevel.Season => html.Words.Say("report.whole_season"),
        GroupLevel.Pasture => group.Property + ", " + group.Name,
        GroupLevel.PastureCover => group.Pasture + ", " + group.Cover,
        _ => group.Name,
    };

    private static DotShape Shape(GroupResults group) => group.Level switch { GroupLevel.Season => DotShape.Triangle, GroupLevel.Cover or GroupLevel.PastureCover => DotShape.Square, GroupLevel.Year => DotShape.Triangle, _ => DotShape.Disc };

    private ShareRow Row(GroupResults g, Estimate share, int whole, int known) =>
        new(Name(g), html.Say(Phrase.Of("report.of", ("whole", whole), ("known", known))), Dot.Of(share), Shape(g), share.Why is { } why ? html.Say(why) : "");

    private static string Percent(Answer<double> share) => share.HasValue ? Numbers.Percent(share.Value, 1) : "–";

    private string Incidence(ReportGroup group) => !group.Incidence.HasValue
        ? html.Say(group.Incidence.Why)
        : group.Incidence.Value.IsEmpty ? html.Words.Say("pictures.no_losses")
        : string.Join(", ", group.Incidence.Value.Select(c => html.Words.Say("report.cause." + LossCounts.Token(c.Cause)) + " " + Numbers.Percent(c.Share, 1)));
}

using Tussock.Evidence;
using Tussock.Pictures;
using Tussock.Reports.Landowner;
using Tussock.Reports.Print;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.Reports.Technical;

/// <summary>Who was it: cameras first, then beliefs from remains as probabilities, with how far they can be trusted.</summary>
internal sealed class CulpritChapters(Html html, ReportNumbers numbers)
{
    private const int MostClasses = 3;
    private const int MostNests = 300;
    private const double WorthARow = 0.005;

    internal void Write()
    {
        var culprits = numbers.Results.Culprits;
        html.List(Evidence.Cautions.Of(numbers.Results.Season.Nests.Select(n => n.Source.Text("egg_kind")).Append(numbers.Results.Season.Settings.EggKind).Distinct(StringComparer.Ordinal)).Select(c => Sentences.Sentence(html.Say(c))), "class=\"caution\"");
        html.Heading(3, "report.cameras_head");
        foreach (var row in Tables.First(html, culprits.Compositions.Where(c => c.Level is GroupLevel.Season || c.Composition.Confirmed > 0))) Cameras(row);
        if (culprits.Nests.IsEmpty) return;
        html.Heading(3, "report.beliefs_head").Paragraph(Phrase.Of("report.beliefs_intro"));
        Tables.Write(html, ["report.col.nest", "report.col.beliefs", "report.col.signs", "report.col.reasons", "report.col.confirmed"], Tables.First(html, culprits.Nests, MostNests).Select(n => (string[])
        [
            NestName(n), Leading(n.Belief), Numbers.Whole(n.Belief.SignsRead), Why(culprits, n), n.Confirmed is { } seen ? html.Say(PastureWords.CulpritName(seen)) : "–",
        ]), "class=\"listing\"");
        html.Heading(3, "report.scores_head");
        html.Paragraph(culprits.Scoring.HasValue
            ? Phrase.Of("report.scores", ("nests", culprits.Scoring.Value.Nests), ("right", culprits.Scoring.Value.ShareRight), ("commonest", culprits.Scoring.Value.ShareRightCommonest), ("log", culprits.Scoring.Value.LogScore), ("brier", culprits.Scoring.Value.Brier), ("calibration", culprits.Scoring.Value.CalibrationError))
            : culprits.Scoring.Why);
        if (culprits.Scoring.HasValue) Calibration(culprits.Scoring.Value.Bands);
        if (culprits.Scoring.HasValue) Tables.Write(html, ["report.col.read", "report.col.confirmed", "text.nests"], culprits.Scoring.Value.Confusions.Select(c => (string[])[c.Read == Scoring.CannotTell ? html.Words.Say("report.cannot_tell") : html.Say(PastureWords.CulpritName(c.Read)), html.Say(PastureWords.CulpritName(c.Confirmed)), Numbers.Whole(c.Nests)]));
    }

    private static string NestName(NestCulprit nest) => nest.Fate.Nest.Transect.Name + "-" + Numbers.Whole(nest.Fate.Nest.Number);

    /// <summary>How often beliefs were right, with what the marks mean.</summary>
    private void Calibration(IReadOnlyCollection<CalibrationBand> bands)
    {
        html.Picture(CalibrationChart.Draw([.. bands.Select(b => new CalibrationRow(b.From, b.To, b.Nests, b.MeanChance, Dot.Of(b.Right)))], html.Words));
        html.Paragraph(Phrase.Of("pictures.calibration_description", ("bands", bands.Count)));
    }

    /// <summary>What each sign did to the class that leads.</summary>
    private string Why(Culprits culprits, NestCulprit nest) => nest.Belief.SignsRead == 0 ? "–" : string.Join("; ", culprits.Why(nest).Select(r => html.Say(r.InWords(nest.Belief))));

    private void Cameras(CompositionRow row)
    {
        var composition = row.Composition;
        html.Open("article").Element("h3", row.Level switch { GroupLevel.Pasture => row.Property + ", " + row.Name, GroupLevel.Season => html.Words.Say("report.whole_season"), _ => row.Name }).Paragraph(Phrase.Of("report.confirmed_of", ("confirmed", composition.Confirmed), ("losses", composition.Losses)));
        if (composition.Confirmed >= Composition.FewestConfirmed)
        {
            var shares = composition.Shares.Where(s => s.Share.Value > 0).OrderByDescending(s => s.Share.Value).ThenBy(s => s.Culprit, StringComparer.Ordinal).ToArray();
            html.Picture(CulpritBars.Draw([.. shares.Select(s => new CulpritRow(html.Say(PastureWords.CulpritName(s.Culprit)), (int)Math.Round(s.Share.Value!.Value * composition.Confirmed), Dot.Of(s.Share)))], composition.Confirmed, html.Words));
        }

        if (composition.Losses > 0)
        {
            var worth = composition.Shares.Where(s => s.Share.Value > 0 || s.Naive >= WorthARow).OrderByDescending(s => s.Share.Value ?? s.Naive).ThenBy(s => s.Culprit, StringComparer.Ordinal);
            Tables.Write(html, ["report.col.culprit", "report.col.cameras", "report.col.with_remains", "report.col.naive"], worth.Select(s => (string[])[html.Say(PastureWords.CulpritName(s.Culprit)), EstimateText.Share(s.Share), EstimateText.Share(s.ShareWithRemains), s.Naive is { } naive ? Numbers.Percent(naive) : "–"]));
        }

        html.List(composition.Shares.SelectMany(s => Tables.Said(html, s.Share)).Distinct(StringComparer.Ordinal).Take(2), "class=\"notes\"");
        html.Close("article");
    }

    /// <summary>The three classes that lead a belief and, always, the chance that it is none on the list.</summary>
    private string Leading(Belief belief)
    {
        var all = belief.Culprits.Zip(belief.Chances).ToArray();
        return string.Join(", ", all[..^1].OrderByDescending(c => c.Second).Take(MostClasses).Append(all[^1]).Select(c => html.Say(PastureWords.CulpritName(c.First)) + " " + Numbers.Chance(c.Second)));
    }
}

using Tussock.Fates;
using Tussock.Reports.Landowner;
using Tussock.Reports.Print;
using Tussock.Results;
using Tussock.Verdicts;
using Tussock.Words;

namespace Tussock.Reports.Technical;

/// <summary>What was left out, what looks wrong, methods, cautions, the data, and how the report was made.</summary>
internal sealed class BackMatter(Html html, ReportNumbers numbers, ReportMaking making)
{
    private const int WorstFindings = 20;
    private const int MostNestsListed = 600;
    private const int MostReasons = 20;
    private static readonly string[] MethodKeys = ["fates", "share", "posterior", "curve", "daily", "two_piece", "causes", "comparison", "runs", "density", "culprits", "verdict", "more"];
    private static readonly (string Name, string Text)[] ModelMethods =
    [
        ("model_report.method.hazard_ratio.name", "model_report.method.hazard_ratio"), ("model_report.method.models.name", "model_report.method.models"), ("model_report.method.parity.name", "model_report.method.parity"),
    ];

    private static readonly string[] CautionKeys = ["index", "eggs", "field", "hen", "law", "places", "killing"];
    private readonly SeasonResults results = numbers.Results;

    internal void LeftOut()
    {
        var season = results.Whole;
        var left = Results.LeftOut.Of(results);
        html.List(
        [
            html.Say(Phrase.Of("report.left.planned", ("count", left.Planned))),
            html.Say(Phrase.Of("report.left.not_counted", ("count", left.LostOnSetOut))),
            html.Say(Phrase.Of("report.left.no_clump", ("count", left.NoClump))),
            html.Say(Phrase.Of("report.left.extra", ("count", left.Extra))),
            Sentences.Unknown(season) is { } unknown ? Sentences.Sentence(html.Say(unknown)) : "",
            html.Say(Phrase.Of("technical.left.never_visited", ("count", left.NeverVisited))),
            html.Say(Phrase.Of("technical.left.late", ("count", left.FoundLostLate), ("days", results.Trial.Days))),
            .. Sentences.EndedWatching(season).Select(html.Say),
            .. left.NotFoundBecause.Take(MostReasons).Select(r => html.Say(Phrase.Of("technical.not_found_because", ("reason", r.Reason.Replace('_', ' ')), ("visits", r.Visits)))),
        ]);
    }

    internal void Findings()
    {
        html.Paragraph(Phrase.Of("report.findings", ("count", numbers.Findings.Length)));
        Tables.Write(html, ["technical.col.how_bad", "technical.col.count"], numbers.Findings.GroupBy(f => f.Severity).OrderBy(g => g.Key).Select(g => (string[])[html.Words.Say("technical.severity." + g.Key.ToString().ToLowerInvariant()), Numbers.Whole(g.Count())]));
        html.List(numbers.Findings.Take(WorstFindings).Select(f => f.Place + ": " + Sentences.Sentence(html.Say(f.What)) + " " + Sentences.Sentence(html.Say(f.ToDo))), "class=\"notes\"");
        if (numbers.Findings.Length > WorstFindings) html.Paragraph(Phrase.Of("report.findings_more", ("count", numbers.Findings.Length - WorstFindings)));
    }

    internal void Methods()
    {
        html.Open("dl");
        foreach (var key in MethodKeys) html.Element("dt", html.Words.Say("report.method." + key + ".name")).Element("dd", html.Words.Say("report.method." + key));
        foreach (var (name, text) in ModelMethods) html.Element("dt", html.Words.Say(name)).Element("dd", html.Words.Say(text));
        html.Close("dl");
    }

    internal void Cautions() => html.List(CautionKeys.Select(k => html.Words.Say("report.caution." + k)));

    internal void Listing()
    {
        if (results.Fates.Nests.Length > MostNestsListed)
        {
            html.Paragraph(Phrase.Of("technical.no_listing", ("nests", results.Fates.Nests.Length), ("most", MostNestsListed)));
            return;
        }

        html.Paragraph(Phrase.Of("report.listing_intro"));
        var visits = results.Season.Visits.ToLookup(v => v.Nest);
        foreach (var pasture in results.Fates.Nests.GroupBy(f => f.Nest.Transect.Pasture))
        {
            html.Element("h3", pasture.Key.Property + ", " + pasture.Key.Name);
            Tables.Write(html, ["report.col.nest", "text.cover", "report.col.set", "report.col.a", "report.col.b", "report.col.t", "report.col.fate14", "report.col.fate28", "report.col.cause", "report.col.visits"],
                pasture.OrderBy(f => f.Nest.Transect.Name, NaturalOrder.Names).ThenBy(f => f.Nest.Number).Select(f => (string[])
                [
                    f.Nest.Transect.Name + "-" + Numbers.Whole(f.Nest.Number), f.Nest.Cover, Iso(f.Nest.SetOn), Numbers.Day(f.LastIntact), Day(f.FirstLost), Day(f.LostAt), Fate(f, f.Day14), Fate(f, f.Day28), Cause(f),
                    string.Join("; ", visits[f.Nest].Select(v => Day(v.Day) + " " + html.Words.Say("report.finding." + v.Finding))),
                ]), "class=\"listing\"");
        }
    }

    internal void Made()
    {
        html.Paragraph(Phrase.Of("report.made", ("version", making.Version), ("seed", making.Seed.ToString(System.Globalization.CultureInfo.InvariantCulture)), ("date", making.On)));
        html.Paragraph(making.JournalPosition is { } position ? Phrase.Of("report.made_position", ("position", position)) : Phrase.Of("report.made_folder"));
        html.Paragraph(Phrase.Of("report.made_font"));
    }

    private static string Iso(DateOnly? date) => date?.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture) ?? "–";

    private static string Day(double? day) => day is { } d ? Numbers.Day(d) : "–";

    private string Fate(NestFate fate, FateAt at) => html.Words.Say(!fate.IsCounted ? "report.fate.left_out" : at switch { FateAt.Survived => "report.fate.survived", FateAt.Lost => "report.fate.lost", _ => "report.fate.unknown" });

    private string Cause(NestFate fate) => fate.EndedBy is { } ended ? ended.Replace('_', ' ') : fate.IsLost ? html.Words.Say("report.cause." + LossCounts.Token(fate.Cause)) : "–";
}

using System.Text.RegularExpressions;
using System.Xml;
using System.Xml.Linq;
using Tussock.Exchange.SeasonFolder;
using Tussock.Records;
using Tussock.Reports.Technical;
using Tussock.Results;
using Tussock.Simulation;
using Tussock.Words;
using Xunit;

namespace Tussock.Edges.Tests.Reports;

public sealed partial class TechnicalReportTests
{
    private static readonly string[] Sections =
    [
        "verdicts", "survival", "two_numbers", "yardstick", "curve", "daily", "causes", "chance", "density", "segments", "comparison",
        "why", "parity", "runs", "map", "time", "culprits", "left_out", "findings", "methods", "cautions", "data", "made",
    ];

    private static readonly string[] Cautions = ["model_report.caution_crosses", "model_report.caution_uncertain"];

    [Theory]
    [InlineData("separation120")]
    [InlineData("typical144")]
    [InlineData("demo")]
    [InlineData("tiny20")]
    [InlineData("all_survive48")]
    [InlineData("one nest")]
    [InlineData("no visits")]
    [InlineData("no belts")]
    public void Every_season_has_a_well_formed_report_with_all_sections(string name)
    {
        var html = Report(SeasonNamed(name));

        var ids = WellFormed(html).Descendants().Select(e => e.Attribute("id")?.Value).OfType<string>().ToHashSet(StringComparer.Ordinal);
        Assert.All(Sections, s => Assert.Contains(s, ids));
        var text = PageText.Of(html);
        Assert.DoesNotContain("NaN", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Infinity", text, StringComparison.Ordinal);
        Assert.DoesNotContain("∞", text, StringComparison.Ordinal);
        Assert.DoesNotMatch(Unsaid(), text);
    }

    [Fact]
    public void Same_season_same_bytes() => Assert.Equal(Report(SeasonNamed("tiny20")), Report(SeasonNamed("tiny20")));

    [Fact]
    public void Survival_if_loss_were_even_stands_beside_its_warning() =>
        Assert.Contains("survival if loss were even. It is a translation, not an estimate", PageText.Of(Report(SeasonNamed("tiny20"))), StringComparison.Ordinal);

    [Fact]
    public void A_list_of_more_than_six_hundred_nests_is_left_out_and_pictures_end_at_thirty()
    {
        var text = PageText.Of(Report(ManyPastures(40)));

        Assert.Contains("the list is left out of reports above 600 nests", text, StringComparison.Ordinal);
        Assert.Contains("only the first 30 of", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_belief_names_three_classes_and_the_chance_of_none_on_the_list()
    {
        var belief = Catalogue.English.Say("report.col.beliefs");
        var table = WellFormed(Report(SeasonNamed("demo"))).Descendants("table").Single(t => t.Descendants("th").Any(h => h.Value == belief));

        Assert.All(table.Element("tbody")!.Elements("tr"), row => Assert.Matches(@"^(.+ (?:[<>] )?\d+ %, ){3}not on the list (?:[<>] )?\d+ %$", row.Elements("td").First().Value));
    }

    [Fact]
    public void A_belief_has_its_reasons_and_how_often_beliefs_were_right_is_drawn()
    {
        var report = WellFormed(Report(SeasonNamed("demo")));
        var reasons = Catalogue.English.Say("report.col.reasons");
        var rows = report.Descendants("table").Single(t => t.Descendants("th").Any(h => h.Value == reasons)).Element("tbody")!.Elements("tr").Select(r => r.Elements("td").Select(c => c.Value).ToArray()).ToArray();
        Assert.Contains(rows, r => r[1] == "0" && r[2] == "–");
        Assert.All(rows.Where(r => r[1] != "0"), r => Assert.Equal(int.Parse(r[1], System.Globalization.CultureInfo.InvariantCulture), r[2].Split("; ").Length));
        Assert.Contains(report.Descendants("title"), t => t.Value == Catalogue.English.Say("pictures.calibration_title"));
    }

    [Fact]
    public void What_goes_with_survival_is_drawn_with_both_cautions()
    {
        var report = WellFormed(Report(SeasonNamed("demo")));
        string[] titles = [.. report.Descendants("title").Select(t => t.Value)];
        Assert.Contains("Predicted survival over 28 days by the effects of the best model", titles);
        Assert.Contains("Predicted survival by day and cover class, averaged over transects", titles);
        Assert.Contains("Survival in prickly pear by survival in bunchgrass, against clump density", titles);
        Assert.Contains(report.Descendants("th"), h => h.Value == "Hazard ratio");
        Assert.All(Cautions, c => Assert.Contains(report.Descendants("li"), li => li.Value == Catalogue.English.Say(c)));
    }

    [Theory]
    [InlineData("all_survive48", "No model can be fitted here: no nest was lost, so nothing can be said about what losses depend on.", 2)]
    [InlineData("no belts", "No line with watched nests has a counted belt.", 1)]
    [InlineData("no visits", "No model can be fitted here:", 2)]
    public void Where_a_model_cannot_be_had_its_reason_stands_in_place_of_the_picture(string name, string reason, int without)
    {
        var html = Report(SeasonNamed(name));
        Assert.Contains(reason, PageText.Of(html), StringComparison.Ordinal);
        var report = WellFormed(html);
        Assert.Equal(2 - without, report.Descendants("title").Count(t => t.Value.StartsWith("Predicted survival over", StringComparison.Ordinal)) + report.Descendants("title").Count(t => t.Value.Contains("against clump density", StringComparison.Ordinal)));
        Assert.All(Cautions, c => Assert.Contains(report.Descendants("li"), li => li.Value == Catalogue.English.Say(c)));
    }

    private static string Report(SeasonTables tables)
    {
        var season = SeasonReading.Read(tables, out var problems) ?? throw new InvalidOperationException(string.Join("; ", problems.Select(p => p.ToString())));
        return TechnicalReport.Of(ReportNumbers.Of(SeasonResults.Of(season)), ReportSeasons.Making, Catalogue.English).Html;
    }

    private static SeasonTables SeasonNamed(string name) => name switch
    {
        "demo" => DemoSeason.Write(1),
        "one nest" => Kept(Folder("tiny20"), RecordKind.Nests, 1),
        "no visits" => Without(Folder("tiny20"), RecordKind.Visits),
        "no belts" => Without(Folder("tiny20"), RecordKind.Belts),
        _ => Folder(name),
    };

    private static SeasonTables Folder(string name) => SeasonFolderReader.Read(Path.Combine(Checks.Folder("reference-seasons"), name, "season"), TestContext.Current.CancellationToken).Tables!;

    private static SeasonTables Without(SeasonTables tables, RecordKind kind) => tables with { Tables = [.. tables.Tables.Select(t => t.Kind == kind ? t with { Rows = [] } : t)] };

    /// <summary>The first nests alone, with the visits of those nests.</summary>
    private static SeasonTables Kept(SeasonTables tables, RecordKind kind, int count)
    {
        var nests = tables.Table(kind)!;
        var (line, number) = (nests.IndexOf("transect"), nests.IndexOf("nest"));
        var kept = nests.Rows.Take(count).Select(r => (r.Cells[line], r.Cells[number])).ToHashSet();
        return tables with { Tables = [.. tables.Tables.Select(t => t.IndexOf("nest") is var n and >= 0 ? t with { Rows = [.. t.Rows.Where(r => kept.Contains((r.Cells[t.IndexOf("transect")], r.Cells[n])))] } : t)] };
    }

    /// <summary>The same season many times over, under new names of pasture and transect.</summary>
    private static SeasonTables ManyPastures(int times)
    {
        var tables = Folder("tiny20");
        return tables with { Tables = [.. tables.Tables.Select(t => t with { Rows = [.. Enumerable.Range(0, times).SelectMany(i => t.Rows.Select((r, row) => r with { Line = 2 + (i * t.Rows.Length) + row, Cells = [.. r.Cells.Select((c, at) => t.Columns[at] is "pasture" or "transect" && c.Length > 0 ? c + "-" + Words.Numbers.Whole(i) : c)] }))] })] };
    }

    private static XDocument WellFormed(string html)
    {
        var body = html[html.IndexOf("<body>", StringComparison.Ordinal)..(html.IndexOf("</body>", StringComparison.Ordinal) + "</body>".Length)];
        using var reader = XmlReader.Create(new StringReader(body), new XmlReaderSettings { DtdProcessing = DtdProcessing.Prohibit });
        var document = XDocument.Load(reader);
        foreach (var element in document.Descendants()) element.Name = element.Name.LocalName;
        return document;
    }

    [GeneratedRegex(@"\{[a-z_0-9]+[:|}]", RegexOptions.None, 10_000)]
    private static partial Regex Unsaid();
}

using System.Collections.Immutable;
using Tussock.Cover;
using Tussock.Pictures;
using Tussock.Reports.Landowner;
using Tussock.Reports.Print;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.Reports.Technical;

/// <summary>Clump density, cover classes side by side, and losses along the line.</summary>
internal sealed class CoverChapters(Html html, ReportNumbers numbers)
{
    private const int MostLines = 200;
    private const int MostStrips = 300;
    private const int FewestStrips = 6;

    /// <summary>Clumps an acre at which a segment of 50 steps holds about five.</summary>
    private const double FiveASegment = 300;
    private readonly SeasonResults results = numbers.Results;

    private double Benchmark => results.Season.Settings.ClumpsPerAcreBenchmark;

    internal void Density()
    {
        var rows = results.Densities.Where(d => d.Level is GroupLevel.Season or GroupLevel.Pasture).ToArray();
        if (rows.Length == 0)
        {
            html.Paragraph(Phrase.Of("density.no_belt"));
            return;
        }

        html.Paragraph(Phrase.Of("report.density_intro", ("benchmark", Benchmark)));
        html.Picture(DensityChart.Draw([.. Tables.First(html, rows).Select(d => new DensityBar(d.Cover ?? Name(d), Dot.Of(d.Density.PerAcre), d.Cover is null ? DotShape.Disc : DotShape.Square))], Benchmark, html.Words));
        Tables.Write(html, ["text.density_of", "text.cover", "text.clumps", "report.col.area", .. Tables.InUnits(html, (UnitChoice.Us, "text.per_acre"), (UnitChoice.Metric, "text.per_ha")), "report.col.between_lines", "report.col.chance_density"], rows.Select(d => (string[])
        [
            Name(d), d.Cover ?? html.Words.Say("text.all"), Numbers.Short(d.Density.Clumps), Numbers.Fixed(d.Density.AreaM2, 0), .. Tables.InUnits(html, (UnitChoice.Us, EstimateText.Amount(d.Density.PerAcre)), (UnitChoice.Metric, EstimateText.Amount(d.Density.PerHa))), EstimateText.Density(d.Density.PerAcreBetweenLines, html.Words.Units),
            d.Cover is null ? Tables.Chance(html, d.Density.ChanceAtLeastBenchmark) : "–",
        ]), "class=\"short\"");
        Tables.Notes(html, rows.Where(d => d.Cover is null).Select(d => (Name(d), Tables.Said(html, d.Density.PerAcre))));
        Walkers();
    }

    internal void Segments()
    {
        var byTransect = numbers.Segments.GroupBy(s => s.Transect).ToDictionary(g => g.Key, g => g.ToArray());
        if (byTransect.Count == 0)
        {
            html.Paragraph(Phrase.Of("density.no_belt"));
            return;
        }

        html.Paragraph(Phrase.Of("report.segments_intro", ("density", FiveASegment)));
        var pastures = Tables.First(html, results.Season.Transects.Select((t, i) => (Transect: t, i)).Where(t => byTransect.ContainsKey(t.i)).GroupBy(t => t.Transect.Pasture)).ToArray();
        // Many pastures show fewer strips each: all of them in one page would be more than a browser likes to draw.
        var strips = Math.Clamp(MostStrips / Math.Max(1, pastures.Length), FewestStrips, Tables.MostPictures);
        foreach (var pasture in pastures)
        {
            html.Open("article").Element("h3", pasture.Key.Property + ", " + pasture.Key.Name);
            html.Picture(SegmentStrip.Draw([.. Tables.First(html, pasture.OrderBy(t => t.Transect.Name, NaturalOrder.Names), strips).Select(t => new SegmentRow(t.Transect.Name, Strip(byTransect[t.i])))], Benchmark, html.Words));
            var (above, counted) = SegmentDensity.SegmentsAbove(pasture.SelectMany(t => byTransect[t.i]), Benchmark);
            html.Paragraph(Phrase.Of("density.segments_above", ("above", above), ("counted", counted), ("benchmark", Benchmark))).Close("article");
        }
    }

    internal void Comparison()
    {
        html.Paragraph(Phrase.Of("report.comparison_intro")).Paragraph(Phrase.Of("model_report.hazard_intro"));
        Tables.Write(html, ["text.comparison", "text.where", "text.survival_ratio", "text.odds_ratio", "model_report.col.hazard_ratio"], results.CoverComparisons.Select(c => (string[])
        [
            c.Other + " : " + c.Reference, Where(c), EstimateText.Ratio(c.Comparison.SurvivalRatio), EstimateText.Ratio(c.Comparison.OddsRatio), EstimateText.Ratio(c.HazardRatio),
        ]));
        Tables.Notes(html, results.CoverComparisons.Select(c => (Where(c), Tables.Said(html, c.Comparison.SurvivalRatio))));
        Tables.Notes(html, results.CoverComparisons.Select(c => (html.Say(Phrase.Of("model_report.hazard_of", ("where", Where(c)))), Tables.Said(html, c.HazardRatio))));
    }

    internal void Runs()
    {
        foreach (var runs in results.Runs.Where(r => r.Level == GroupLevel.Season))
        {
            html.Paragraph(runs.Runs.HasValue
                ? Phrase.Of("text.runs", ("day", (double)runs.Check), ("runs", runs.Runs.Value.Runs), ("expected", runs.Runs.Value.Expected), ("p", runs.Runs.Value.P))
                : Phrase.Of("text.runs_why", ("day", (double)runs.Check), ("why", runs.Runs.Why)));
            if (runs.Runs.HasValue) html.List(runs.Runs.Value.Notes.Select(html.Say), "class=\"notes\"");
        }

        Tables.Write(html, ["report.col.line", "report.col.check", "report.col.lost_of", "report.col.runs", "report.col.expected", "report.col.p"], Tables.First(html, results.Runs.Where(r => r is { Level: GroupLevel.Transect, Runs.HasValue: true }), MostLines)
            .Select(r => (string[])[r.Name, Numbers.Whole(r.Check), html.Say(Phrase.Of("report.of", ("whole", r.Runs.Value.Lost), ("known", r.Runs.Value.Nests))), Numbers.Whole(r.Runs.Value.Runs), Numbers.Fixed(r.Runs.Value.Expected, 1), Numbers.Fixed(r.Runs.Value.P, 2)]), "class=\"listing\"");
    }

    private void Walkers()
    {
        var walkers = WalkerRow.Of(results.Season);
        html.Element("h3", html.Words.Say("technical.walkers_head")).Paragraph(Phrase.Of(walkers.IsEmpty ? "technical.no_walkers" : "technical.walkers"));
        Tables.Write(html, ["technical.col.walker", "technical.col.walks", "technical.col.step", "technical.col.step_range", "technical.col.span"], walkers.Select(w => (string[])
        [
            w.Walker, Numbers.Whole(w.Walks), Both(w.StepM), html.Say(Phrase.Of("technical.lengths", ("shortest", w.ShortestM), ("longest", w.LongestM))), w.ArmSpanM is { } span ? Both(span) : "–",
        ]), "class=\"short\"");
    }

    private string Where(CoverComparisonRow row) => row.Pasture is null ? html.Words.Say("text.whole_season") : row.Property + ", " + row.Pasture;

    private string Both(double metres) => html.Say(Phrase.Of("technical.length", ("metres", metres)));

    private string Name(DensityRow row) => row.Level == GroupLevel.Season ? html.Words.Say("report.whole_season") : row.Name;

    private static ImmutableArray<double?> Strip(SegmentDensity[] segments)
    {
        var strip = new double?[Math.Min(400, segments.Max(s => s.Segment))];
        foreach (var segment in segments.Where(s => s.Segment >= 1 && s.Segment <= strip.Length)) strip[segment.Segment - 1] = segment.PerAcre;
        return [.. strip];
    }
}

using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Measures;
using Tussock.Pictures;
using Tussock.Records;
using Tussock.Reports.Landowner;
using Tussock.Reports.Print;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.Reports.Technical;

/// <summary>Maps and strips of time, property by property.</summary>
internal sealed class LandChapters(Html html, ReportNumbers numbers)
{
    private readonly SeasonResults results = numbers.Results;

    private IEnumerable<(string Property, ImmutableArray<Pasture> Pastures)> Properties =>
        results.Season.Pastures.GroupBy(p => p.Property, StringComparer.Ordinal).Select(g => (g.Key, g.ToImmutableArray()));

    internal void Maps()
    {
        html.Paragraph(Phrase.Of("report.map_intro"));
        foreach (var (property, pastures) in Properties)
        {
            html.Open("article").Element("h3", property).Picture(PropertyLand.Map(results, pastures, html.Words, (Svg.ColumnWidth, 430)));
            if (PropertyLand.IsCrowded(results, pastures)) html.Paragraph(Phrase.Of("technical.map_crowded", ("nests", results.Fates.Rows.Count(f => pastures.Contains(f.Nest.Transect.Pasture)))));
            html.Close("article");
        }

        Tables.Write(html, ["report.col.pasture", .. Tables.InUnits(html, (UnitChoice.Metric, "report.col.area_ha"), (UnitChoice.Us, "report.col.area_acres")), "report.col.management"], results.Season.Pastures.Select(p => (string[])
        [
            p.Property + ", " + p.Name, .. Tables.InUnits(html, (UnitChoice.Metric, p.AreaHa is { } ha ? Numbers.Fixed(ha, 0) : "–"), (UnitChoice.Us, p.AreaHa is { } hectares ? Numbers.Fixed(Area.Acres(Area.FromHectares(hectares)), 0) : "–")), p.Source.Text("management"),
        ]));
    }

    internal void Times()
    {
        html.Paragraph(Phrase.Of("report.time_intro"));
        foreach (var (property, pastures) in Properties)
        {
            html.Open("article").Element("h3", property).Picture(TimeStrip.Draw(Content(property, pastures), html.Words)).Close("article");
        }

        var settings = results.Season.Settings;
        if (settings.RainSinceOctoberMm is { } rain) html.Paragraph(Phrase.Of("report.rain", ("rain", Rain(rain)), ("normal", settings.RainNormalMm is { } normal ? Rain(normal) : "–")));
    }

    private TimeContent Content(string property, ImmutableArray<Pasture> pastures)
    {
        var fates = results.Fates.Rows.Where(f => pastures.Contains(f.Nest.Transect.Pasture)).ToArray();
        var events = results.Season.Events.Where(e => e.From is not null && (e.Property.Length == 0 || e.Property == property)).ToArray();
        return new TimeContent
        {
            SetOut = [.. fates.Select(f => f.Nest.SetOn!.Value).Distinct().Order()],
            Visits = [.. results.Season.Visits.Where(v => v is { VisitedOn: not null, Day: > 0 } && pastures.Contains(v.Nest.Transect.Pasture)).Select(v => v.VisitedOn!.Value).Distinct().Order()],
            Losses = [.. fates.Where(f => f.IsLost).Select(Loss)],
            Rain = [.. events.Where(e => e is { Kind: "rain", Amount: > 0 }).Select(e => new DatedRain(e.From!.Value, Millimetres(e), Rain(Millimetres(e))))],
            Land = [.. events.Where(e => e.Kind != "rain" && e.Kind != "livestock_out").Select(e => new DatedSpan(e.From!.Value, e.To ?? Out(e, events), Said(e)))],
        };
    }

    private static DatedLosses Loss(NestFate fate)
    {
        var set = fate.Nest.SetOn!.Value;
        return fate.LostAt is { } seen
            ? new DatedLosses(set.AddDays((int)Math.Floor(seen)), set.AddDays((int)Math.Floor(seen)), 1)
            : new DatedLosses(set.AddDays((int)Math.Floor(fate.LastIntact)), set.AddDays((int)Math.Ceiling(fate.FirstLost!.Value)), 1);
    }

    private static DateOnly? Out(LandEvent e, LandEvent[] events) => e.Kind != "livestock_in" ? e.From : events.Where(o => o.Kind == "livestock_out" && o.Pasture == e.Pasture && o.From >= e.From).Select(o => o.From).Min();

    private static double Millimetres(LandEvent e) => e.Unit is "in" or "inch" or "inches" ? e.Amount!.Value * Length.MetresPerInch * 1000 : e.Amount!.Value;

    private string Rain(double millimetres) => html.Say(Phrase.Of("report.rain_amount", ("mm", millimetres)));

    private string Said(LandEvent e)
    {
        var kind = html.Words.Has("report.event." + e.Kind) ? html.Words.Say("report.event." + e.Kind) : e.Kind.Replace('_', ' ');
        var amount = e.Amount is { } x ? Numbers.Short(x) + " " + e.Unit + " " : "";
        return (e.Pasture.Length > 0 ? e.Pasture + ": " : "") + amount + kind;
    }
}

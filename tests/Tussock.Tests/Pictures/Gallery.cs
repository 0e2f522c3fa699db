using System.Collections.Immutable;
using Tussock.Actions;
using Tussock.Fates;
using Tussock.Land;
using Tussock.Pictures;
using Tussock.Records;
using Tussock.Simulation;
using Tussock.Words;

namespace Tussock.Tests.Pictures;

/// <summary>Every picture with ordinary and with extreme content.</summary>
public static class Gallery
{
    private static Catalogue Words => Catalogue.English;

    private static readonly DateOnly Start = new(2026, 5, 15);

    public static IReadOnlyDictionary<string, Func<string>> Ordinary { get; } = new Dictionary<string, Func<string>>(StringComparer.Ordinal)
    {
        ["nest-row"] = () => Ranch[3].Draw(Words),
        ["nest-board"] = () => NestBoard.Draw(Ranch, Words),
        ["share-chart"] = () => ShareChart.Draw("Whole after 28 days", Shares, 0.5, Words),
        ["curve-chart"] = () => CurveChart.Draw(Curve, [14, 28], 0.5, 30, Words),
        ["density-chart"] = () => DensityChart.Draw(Densities, 300, Words),
        ["segment-strip"] = () => SegmentStrip.Draw(Segments(8, 10), 300, Words),
        ["land-map"] = () => LandMap.Draw(Map, Words),
        ["land-sketch"] = () => LandSketch.Draw([new("House Side", [.. Ranch.Take(2)]), new("Far Side", [.. Ranch.Skip(2)])], Words),
        ["loss-split"] = () => LossSplit.Draw(new LossSplitCounts(20, 32, 3, 1), Words),
        ["time-strip"] = () => TimeStrip.Draw(Time, Words),
        ["culprit-bars"] = () => CulpritBars.Draw([new("raccoon", 5, new(0.4, 0.2, 0.65)), new("striped skunk", 4, new(0.33, 0.14, 0.58)), new("coyote or fox", 3, new(0.25, 0.09, 0.5))], 12, Words),
        ["calibration-chart"] = () => CalibrationChart.Draw([new(0.2, 0.4, 10, 0.32, new(0.6, 0.3, 0.85)), new(0.6, 0.8, 4, 0.7, new(0.25, 0.03, 0.65)), new(0.8, 1, 8, 0.93, new(1, 0.74, 1))], Words),
        ["yardstick"] = () => Yardstick.Draw("East Pasture", new(0.33, 0.23, 0.46), 0.5, [new("an invented range, for the picture", 0.2, 0.45), new("another invented range", 0.48, 0.7)], Words),
        ["effects-chart"] = () => EffectsChart.Draw(Effects, 0.5, 28, Words),
        ["survival-by-class"] = () => SurvivalByClassChart.Draw([Course("bunchgrass", 0.028), Course("prickly pear", 0.02), Course("shrub", 0.021)], [14, 28], 0.5, 28, Words),
        ["action-chart"] = () => ActionChart.Draw(Contrast(["2022", "2023", "2024", "2025"], "2024", 0.3), Words),
        ["ratio-curve"] = () => RatioCurve.Draw(Ratio(new(410, 190, 2300), 90, 760), Words),
    };

    public static IReadOnlyDictionary<string, Func<string>> Extreme { get; } = new Dictionary<string, Func<string>>(StringComparer.Ordinal)
    {
        ["no nests"] = () => NestBoard.Draw([], Words),
        ["one nest"] = () => NestBoard.Draw([new("1", [NestMark.Whole])], Words),
        ["an empty row"] = () => new NestRow("1", []).Draw(Words),
        ["300 lines"] = () => NestBoard.Draw([.. Enumerable.Range(1, 300).Select(i => new NestRow("line " + Numbers.Whole(i), [.. Enumerable.Repeat(NestMark.Eaten, 45)]))], Words),
        ["no shares"] = () => ShareChart.Draw("Whole", [], 0.5, Words),
        ["300 shares"] = () => ShareChart.Draw("Whole", [.. Enumerable.Range(0, 300).Select(i => new ShareRow("a pasture with a very long name indeed, number " + Numbers.Whole(i), "1 of 2", new(i / 299.0, null, null)))], 1, Words),
        ["markup in a name"] = () => ShareChart.Draw("<script>", [new("A & B <i>\"'\u0001", "", new(null, 0, 1), DotShape.Triangle, "why not")], 0, Words),
        ["no curve"] = () => CurveChart.Draw([], [], null, 28, Words),
        ["no densities"] = () => DensityChart.Draw([], 300, Words),
        ["a density without limits and one far out"] = () => DensityChart.Draw([new("a", new(0, 0, null)), new("b", new(1e6, 1, 1e9)), new("c", new(null, null, null))], 300, Words),
        ["no segments"] = () => SegmentStrip.Draw([], 300, Words),
        ["300 lines of segments"] = () => SegmentStrip.Draw(Segments(300, 60), 300, Words),
        ["an empty map"] = () => LandMap.Draw(new MapContent(), Words),
        ["a map of one nest"] = () => LandMap.Draw(new MapContent { Nests = [new(new Position(27, -98.5), NestMark.Whole)] }, Words),
        ["an empty sketch"] = () => LandSketch.Draw([], Words),
        ["a sketch of 301 lines"] = () => LandSketch.Draw([new("a", [.. Enumerable.Repeat(Ranch[0], 300)]), new("b", []), new("c", [new("x", [.. Enumerable.Repeat(NestMark.NotKnown, 100)])])], Words),
        ["no losses"] = () => LossSplit.Draw(new LossSplitCounts(0, 0, 0, 0), Words),
        ["hardly any of some losses"] = () => LossSplit.Draw(new LossSplitCounts(1, 1000, 1, 1), Words),
        ["no time"] = () => TimeStrip.Draw(new TimeContent(), Words),
        ["one day"] = () => TimeStrip.Draw(new TimeContent { Visits = [Start] }, Words),
        ["many losses"] = () => TimeStrip.Draw(new TimeContent { Losses = [.. Enumerable.Range(0, 300).Select(i => new DatedLosses(Start.AddDays(i % 7), Start.AddDays(10 + (i % 40)), 1))] }, Words),
        ["no culprits"] = () => CulpritBars.Draw([], 0, Words),
        ["no bands"] = () => CalibrationChart.Draw([], Words),
        ["a band without limits"] = () => CalibrationChart.Draw([new(0, 0.2, 1, 0, new(1, null, null)), new(0.8, 1, 100000, 1, new(null, 0, 1))], Words),
        ["no effects"] = () => EffectsChart.Draw([], 0.5, 28, Words),
        ["effects without an end, and very long names"] = () => EffectsChart.Draw([new("the name of an effect that somebody wrote down at great length, with every detail that came to mind on a hot day", [new("a class with a name that goes on and on and on", new(0, null, null), new(null, null, null)), new("<b>", new(null, null, null), new(null, null, null), "a class without a loss has no finite effect, which is a long reason to write into so small a picture"), new("x", new(1, 0.999, 1), new(1, 0, 1))])], null, 28, Words),
        ["300 effects"] = () => EffectsChart.Draw([.. Enumerable.Range(0, 300).Select(_ => Effects[0])], 0.5, 28, Words),
        ["no classes"] = () => SurvivalByClassChart.Draw([], [], null, 28, Words),
        ["classes that end alike, one without limits, one empty, one too many"] = () => SurvivalByClassChart.Draw([Course("a very long name of a class indeed, longer than its room", 0.02), Course("b", 0.02), new("c", []), Course("d", 0.0201), Course("e", 0.5)], [14, 28, 99], 0.5, 28, Words),
        ["four classes of which all are lost"] = () => SurvivalByClassChart.Draw([.. "abcd".Select(c => Course(c.ToString(), 5))], [14, 28], 0, 28, Words),
        ["no ratio"] = () => RatioCurve.Draw(new RatioContent("a", "b", [], [], new(null, null, null), 300), Words),
        ["a ratio with an end beyond any number"] = () => RatioCurve.Draw(Ratio(new(300, 1e-9, 1e12), 299, 301), Words),
        ["a parity density far to the left"] = () => RatioCurve.Draw(Ratio(new(0.001, null, null), 90, 760), Words),
        ["a parity density far to the right, over many powers of ten"] = () => RatioCurve.Draw(Ratio(new(1e9, 2, 1e12), 0.5, 70000), Words),
        ["densities in hectares"] = () => DensityChart.Draw(Densities, 300, Words.In(UnitChoice.Metric)),
        ["densities in acres alone"] = () => DensityChart.Draw(Densities, 300, Words.In(UnitChoice.Us)),
        ["segments in hectares"] = () => SegmentStrip.Draw(Segments(8, 10), 300, Catalogue.Of("es")!.In(UnitChoice.Metric)),
        ["a ratio by hectares"] = () => RatioCurve.Draw(Ratio(new(410, 190, 2300), 90, 760), Words.In(UnitChoice.Metric)),
        ["a map in feet"] = () => LandMap.Draw(Map, Words.In(UnitChoice.Us)),
        ["a map in metres"] = () => LandMap.Draw(Map, Words.In(UnitChoice.Metric)),
        ["an action in years of which one has no land with it"] = () => ActionChart.Draw(Contrast(["a year with a very long name indeed", "2"], "2", null), Words),
        ["no years of an action"] = () => ActionChart.Draw(Contrast([], "2", 0.5), Words),
        ["a yardstick alone"] = () => Yardstick.Draw("a", new(null, null, null), 1, [], Words),
    };

    private static BeforeAfterControl Contrast(ImmutableArray<string> years, string from, double? share)
    {
        static Estimate Of(double share) => new() { Value = share, Low = share - 0.12, High = share + 0.14, Method = "made" };
        var none = Estimate.None("made", Phrase.Of("action.changes_alike"));
        return new BeforeAfterControl
        {
            Kind = "brush_work", Treated = [new("Two Windmills", "North", false, from)], Untreated = [new("Two Windmills", "South", false, null)], Years = years, Effect = none, HazardRatio = none,
            ChanceRaised = NoAnswer.Because("action.one_line"), Placebo = new(0, false, 0, NoAnswer.Because("action.no_placebo"), null, false, [], []), Changes = none,
            ByYear = [.. years.Select((y, i) => new ActionYear(y, share is { } s ? Of(s + (i < 2 ? 0 : 0.25)) : null, Of(0.45 - (0.05 * i))))], First = [], MustHold = [], Cautions = [],
        };
    }

    /// <summary>The map of one property of the built-in season: looked at, not compared.</summary>
    public static string DemoMap(string property)
    {
        var season = SeasonReading.Read(DemoSeason.Write(1), out _)!;
        var fates = SeasonFates.Of(season);
        using var json = System.Text.Json.JsonDocument.Parse(season.Tables.Texts["pastures.geojson"]);
        var areas = json.RootElement.GetProperty("features").EnumerateArray().Where(f => f.GetProperty("properties").GetProperty("property").GetString() == property)
            .Select(f => new MapArea(f.GetProperty("properties").GetProperty("pasture").GetString()!, [.. f.GetProperty("geometry").GetProperty("coordinates")[0].EnumerateArray().Select(p => new Position(p[1].GetDouble(), p[0].GetDouble()))]));
        return LandMap.Draw(new MapContent
        {
            Pastures = [.. areas],
            Lines = [.. season.Transects.Where(t => t.Pasture.Property == property).Select(t => new MapLine(t.Name, t.Start!.Value, t.End!.Value))],
            Nests = [.. fates.Rows.Where(f => f.Nest.Transect.Pasture.Property == property && f.Nest.At is not null).Select(f => new MapNest(f.Nest.At!.Value, MarkOf(f)))],
        }, Words);
    }

    private static NestMark MarkOf(NestFate fate) => fate.Day28 switch
    {
        FateAt.Survived => NestMark.Whole,
        FateAt.Lost => fate.Cause == Cause.Depredated ? NestMark.Eaten : NestMark.OtherLoss,
        _ => NestMark.NotKnown,
    };

    private static ImmutableArray<NestRow> Ranch { get; } =
    [
        Row("W1", "wwwwew"), Row("W2", "weweww"), Row("W3", "wtewew"), Row("W4", "eew?ee"),
    ];

    private static ImmutableArray<ShareRow> Shares { get; } =
    [
        new("All pastures", "218 of 382", new(0.57, 0.49, 0.65), DotShape.Triangle), new("North Draw", "62 of 78", new(0.79, 0.73, 0.85)), new("East Pasture", "26 of 78", new(0.33, 0.23, 0.46)),
        new("Mill Pasture", "31 of 61", new(0.51, 0.34, 0.68)), new("bunchgrass", "90 of 190", new(0.47, 0.38, 0.57), DotShape.Square), new("Far Side", "", new(null, null, null), DotShape.Disc, "last check on day 41"),
    ];

    private static ImmutableArray<EffectShown> Effects { get; } =
    [
        new("Cover", [new("bunchgrass", new(0.51, 0.41, 0.59), new(0.53, 0.41, 0.63)), new("prickly pear", new(0.58, 0.48, 0.66), new(0.6, 0.5, 0.7)), new("shrub", new(null, null, null), new(null, null, null), "no nest was lost here")]),
        new("Clump density of the line", [new("118 an acre", new(0.44, 0.3, 0.57), new(0.45, 0.29, 0.6)), new("585 an acre", new(0.66, 0.55, 0.75), new(0.69, 0.56, 0.79))]),
    ];

    private static ClassCourse Course(string name, double hazard) => new(name, [.. Enumerable.Range(1, 28).Select(day => (
        (double)day,
        name == "b" ? new Dot(Math.Exp(-hazard * day), null, null) : new Dot(Math.Exp(-hazard * day), Math.Exp(-1.35 * hazard * day), Math.Exp(-0.72 * hazard * day))))]);

    /// <summary>A ratio that falls with density, a little wider at its ends, between two densities walked and a bit beyond.</summary>
    private static RatioContent Ratio(Dot parity, double least, double most)
    {
        var middle = Math.Sqrt(least * most);
        var densities = Enumerable.Range(0, 41).Select(i => least / 1.5 * Math.Pow(most / least * 2.25, i / 40.0));
        return new RatioContent("prickly pear", "bunchgrass", [.. densities.Select(d => At(d, 0.28 * Math.Log(410 / d), 0.2 + (0.22 * Math.Abs(Math.Log(d / middle)))))], [least, middle / 1.2, middle, middle * 1.5, most], parity, 300);

        RatioDot At(double d, double log, double half) => new(d, new Dot(Math.Exp(log), Math.Exp(log - half), Math.Exp(log + half)), d >= least && d <= most);
    }

    private static ImmutableArray<CurvePiece> Curve { get; } =
        [new(0, 0, 1), new(6.2, 6.2, 0.98, 0.9, 1), new(13, 13, 0.83, 0.7, 0.92), new(15, 16, 0.78, 0.64, 0.88), new(27, 27, 0.52, 0.38, 0.66), new(28, 30, 0.46, 0.3, 0.62)];

    private static ImmutableArray<DensityBar> Densities { get; } =
    [
        new("North Draw", new(529, 413, 677)), new("bunchgrass", new(350, 270, 450), DotShape.Square), new("prickly pear", new(179, 120, 250), DotShape.Square),
        new("Caliche Hill", new(150, 116, 194)), new("Far Side", new(460, 150, 1400)),
    ];

    private static TimeContent Time => new()
    {
        SetOut = [Start, Start.AddDays(1)],
        Visits = [Start.AddDays(14), Start.AddDays(15), Start.AddDays(28), Start.AddDays(29)],
        Losses = [new(Start, Start.AddDays(14), 6), new(Start.AddDays(14), Start.AddDays(28), 22), new(Start.AddDays(1), Start.AddDays(15), 5), new(Start.AddDays(15), Start.AddDays(29), 16), new(Start.AddDays(9), Start.AddDays(9), 1)],
        Rain = [new(Start.AddDays(7), 18, "18 mm"), new(Start.AddDays(25), 71, "71 mm")],
        Land = [new(Start.AddDays(16), null, "30 head in")],
    };

    private static MapContent Map => new()
    {
        Pastures = [new("East Pasture", [new(27, -98.5), new(27.001, -98.48), new(27.014, -98.479), new(27.015, -98.499)]), new("Mill Pasture", [new(27, -98.52), new(27, -98.5), new(27.015, -98.499), new(27.016, -98.518)])],
        Zones = [new("tank", [new(27.007, -98.4999), new(27.0073, -98.4995), new(27.0077, -98.4999), new(27.0073, -98.5003)])],
        Lines = [new("E1", new(27.004, -98.496), new(27.005, -98.4922)), new("M1", new(27.01, -98.515), new(27.011, -98.5112))],
        Nests = [.. Enumerable.Range(1, 9).Select(i => new MapNest(new Position(27.004 + (0.001 * i / 10), -98.496 + (0.0038 * i / 10)), (NestMark)(i % 4))), new(new Position(27.4, -98.5), NestMark.Whole)],
    };

    private static NestRow Row(string name, string marks) => new(name, [.. marks.Select(c => c switch { 'w' => NestMark.Whole, 'e' => NestMark.Eaten, 't' => NestMark.OtherLoss, _ => NestMark.NotKnown })]);

    private static ImmutableArray<SegmentRow> Segments(int lines, int segments) =>
        [.. Enumerable.Range(1, lines).Select(l => new SegmentRow("E" + Numbers.Whole(l), [.. Enumerable.Range(1, segments).Select(s => (l * 7 + s * 3) % 23 == 0 ? (double?)null : (l * 131 + s * 89) % 760)]))];
}

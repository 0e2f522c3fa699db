using System.Buffers;
using System.Globalization;
using Tussock.Bench;
using Tussock.Fates;
using Tussock.Models;
using Tussock.Records;
using Tussock.Results;
using Tussock.Survival;
using Tussock.Words;

// Timings of what people wait for. Usage: Tussock.Bench [part of a task's name …]
//   or: Tussock.Bench models [--sizes 1000,10000] [--cap seconds] [part of a task's name …]
//   or: Tussock.Bench coverage [--seasons 2000]
//   or: Tussock.Bench power [--seasons 10000]
//   or: Tussock.Bench network [--ranches 500] [--data DATA]
//   or: Tussock.Bench verdicts [--seasons 2000]
if (args is ["models", ..])
{
    new ModelTimings(ModelTimings.Choice.From(args.AsSpan(1))).Run();
    return;
}

if (args is ["coverage", ..])
{
    Coverage.Run(args is [_, "--seasons", var many] ? int.Parse(many, CultureInfo.InvariantCulture) : 2000);
    return;
}

if (args is ["power", ..])
{
    PowerTimings.Run(args is [_, "--seasons", var some] ? int.Parse(some, CultureInfo.InvariantCulture) : 10_000);
    return;
}

if (args is ["verdicts", ..])
{
    VerdictErrors.Run(args is [_, "--seasons", var each] ? int.Parse(each, CultureInfo.InvariantCulture) : 2000);
    return;
}

if (args is ["network", ..])
{
    NetworkTimings.Run(args is [_, "--ranches", var ranches, ..] ? int.Parse(ranches, CultureInfo.InvariantCulture) : 500, args is [_, _, _, "--data", var data] ? data : null);
    return;
}

if (args is ["desk", ..])
{
    DeskTimings.Run(args is [_, "--lines", var lines] ? int.Parse(lines, CultureInfo.InvariantCulture) : 1500);
    return;
}

const ulong Seed = 7;
bool IsAsked(string task) => args.Length == 0 || args.Any(a => task.Contains(a, StringComparison.Ordinal));
var season = new Lazy<Season>(() => Invented.Season(100_000, Seed));
var spans = new Lazy<NestSpans>(() => SeasonFates.Of(season.Value).Spans);
Console.WriteLine("task,n,seconds,allocated_mb");
foreach (var n in (int[])[144, 600, 10_000, 100_000])
{
    if (!IsAsked("results_total")) break;
    var tables = Invented.Tables(n, Seed);
    Timing.Row("results_total", n, () =>
    {
        var results = SeasonResults.Of(SeasonReading.Read(tables, out _)!, new ResultsOptions { Seed = Seed });
        ResultsDocument.Write(results, new MadeWith("bench", Seed, "2026-01-01T00:00:00Z"), withFates: false, Catalogue.English, new ArrayBufferWriter<byte>());
    });
}

if (IsAsked("reading")) Timing.Row("reading", 100_000, () => SeasonReading.Read(season.Value.Tables, out _));
if (IsAsked("fates")) Timing.Row("fates", 100_000, () => SeasonFates.Of(season.Value));
if (IsAsked("counted_share")) Timing.Row("counted_share", 100_000, () => CountedShare.Of(spans.Value, Trial.Usual, TrialDay.End));
if (IsAsked("two_piece")) Timing.Row("two_piece", 100_000, () => TwoPiece.Fit(spans.Value, Trial.Usual));
foreach (var (lines, groups) in ((int, int)[])[(5, 400), (12, 160), (50, 40), (2000, 1)])
{
    if (!IsAsked("chance")) break;
    var each = Enumerable.Range(0, groups).Select(g => spans.Value.Where(row => spans.Value.Line[row] / lines == g)).ToArray();
    Timing.RowOfEach("chance_of_lines", lines, groups, g => BenchmarkChance.From(each[g], 0.5, 0.5, Trial.Usual));
}

if (IsAsked("curve_tied")) Timing.Row("curve_tied", 100_000, () => Turnbull.CurveFrom(spans.Value));
if (IsAsked("curve_untied"))
{
    var untied = Invented.Untied(10_000, Seed);
    Timing.Row("curve_untied", 10_000, () => Turnbull.CurveFrom(untied));
}

if (IsAsked("band"))
{
    var some = SeasonFates.Of(Invented.Season(600, Seed)).Spans;
    Timing.Row("band", 600, () => TurnbullBand.Around(some, [14, 28], Seed));
}

if (IsAsked("runs")) Timing.Row("runs", 100_000, () => RunsTest.Together(RunsTest.Lines(spans.Value, spans.Value.Day28, Seed)));
foreach (var n in (int[])[1000, 10_000, 100_000, 1_000_000])
{
    if (!IsAsked("effects_by_size") && !IsAsked("grouped_by_size")) break;
    var table = ModelTimings.ThreeEffects(n).Table("cover", "density", "concealment");
    if (IsAsked("effects_by_size")) Timing.Row("effects_by_size", n, () => EffectsFit.Of(table, Link.LogHazard));
    if (IsAsked("grouped_by_size")) Timing.Row("grouped_by_size", n, () => GroupedFit.Of(table, Link.LogHazard, new GroupedOptions { Profile = false }));
}

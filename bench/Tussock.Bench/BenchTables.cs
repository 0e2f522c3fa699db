using System.Globalization;

namespace Tussock.Bench;

/// <summary>Writes invented nests as tables that the peers read.</summary>
internal static class BenchTables
{
    internal static void Intervals(WalkedLines walked, string path) => Write(path, "line,days,lost,cover,density,concealment", walked.Intervals.Select(i =>
        string.Create(CultureInfo.InvariantCulture, $"{walked.Line(i.Nest)},{i.Days:R},{(i.IsLost ? 1 : 0)},{walked.Effect("cover", i.Nest)},{walked.Effect("density", i.Nest):R},{walked.Effect("concealment", i.Nest)}")));

    /// <summary>Only nests that were watched; an empty right end: never found lost.</summary>
    internal static void Bounds(WalkedLines walked, string path) => Write(path, "left,right", Enumerable.Range(0, walked.Nests).Select(walked.Bounds).Where(b => b.LastIntact > 0 || !double.IsPositiveInfinity(b.FirstLost)).Select(b =>
        string.Create(CultureInfo.InvariantCulture, $"{b.LastIntact:R},{(double.IsPositiveInfinity(b.FirstLost) ? "" : b.FirstLost.ToString("R", CultureInfo.InvariantCulture))}")));

    internal static void Seasons(WalkedLines[] seasons, string path) => Write(path, "season,line,days,lost,cover", seasons.SelectMany((walked, s) => walked.Intervals.Select(i =>
        string.Create(CultureInfo.InvariantCulture, $"{s},{walked.Line(i.Nest)},{i.Days:R},{(i.IsLost ? 1 : 0)},{walked.Effect("cover", i.Nest)}"))));

    private static void Write(string path, string header, IEnumerable<string> rows) => File.WriteAllLines(path, rows.Prepend(header));
}

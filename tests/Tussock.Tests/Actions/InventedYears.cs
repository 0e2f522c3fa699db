using System.Globalization;
using System.Text;
using Tussock.Numerics;
using Tussock.Records;
using Tussock.Simulation;

namespace Tussock.Tests.Actions;

/// <summary>Seasons of several years as files, pooled as a data file pools them: what happened to the land and when nests were set out can be chosen.</summary>
internal sealed class InventedYears
{
    public static readonly string[] Names = ["North", "South", "East", "West", "Hill", "Creek", "Well", "Gate"];

    public required YearsDesign Design { get; init; }

    public YearsTruth Truth { get; init; } = new(0.45, -0.7, 0.3, 0.3, 0.4);

    public int FirstYear { get; init; } = 2021;

    /// <summary>Rows of events.csv of a year: property, pasture, transect, from, to, kind.</summary>
    public Func<int, IEnumerable<string>> Events { get; init; } = _ => [];

    /// <summary>Date of set-out of a pasture in a year.</summary>
    public Func<string, int, string> SetOn { get; init; } = (_, year) => year.ToString(CultureInfo.InvariantCulture) + "-05-10";

    /// <summary>Pastures surveyed in a year.</summary>
    public Func<string, int, bool> Is { get; init; } = (_, _) => true;

    /// <summary>Last day on which anybody looked in a year.</summary>
    public Func<int, double> LastLook { get; init; } = _ => 28;

    public Func<string, string> Property { get; init; } = _ => "Two Windmills";

    public ulong Seed { get; init; } = 3;

    public Season Pooled()
    {
        var drawn = SimulatedYears.Draw(Design, Truth, Seeded.Of(Seed));
        var tables = Enumerable.Range(0, Design.Years).Select(y => FolderInTests.Tables(Files(drawn, y))).ToArray();
        var pooled = SeasonPooling.Pool(tables, out var problems) ?? throw new InvalidOperationException(string.Join("; ", problems.Select(p => p.Rule)));
        return SeasonReading.Read(pooled, out var wrong) ?? throw new InvalidOperationException(string.Join("; ", wrong.Select(p => p.Rule + p.Place)));
    }

    private Dictionary<string, string> Files(SimulatedYears drawn, int y)
    {
        var year = FirstYear + y;
        var label = year.ToString(CultureInfo.InvariantCulture);
        var (transects, nests, visits) = (new StringBuilder("property,pasture,transect,set_on,line\n"), new StringBuilder("transect,nest,cover\n"), new StringBuilder("transect,nest,day,finding\n"));
        var rows = Enumerable.Range(0, drawn.Nests.Count).Where(r => drawn.Year[r] == y && Is(Names[drawn.Pasture[r]], year)).GroupBy(r => drawn.Nests.Line[r]);
        foreach (var line in rows)
        {
            var pasture = Names[drawn.Pasture[line.First()]];
            var name = pasture[..1] + pasture[^1..] + Words.Numbers.Whole(line.Key / Design.Years % Design.Lines + 1);
            transects.AppendLine(CultureInfo.InvariantCulture, $"{Property(pasture)},{pasture},{name},{SetOn(pasture, year)},{(Design.AreLasting ? pasture + " line " + name : "")}");
            var nest = 0;
            foreach (var r in line)
            {
                nest++;
                nests.AppendLine(CultureInfo.InvariantCulture, $"{name},{nest},grass");
                foreach (var day in new[] { 14.0, 28.0 }.Where(d => d <= LastLook(year) && d <= Math.Max(drawn.Nests.LastIntact[r], double.IsPositiveInfinity(drawn.Nests.FirstLost[r]) ? 0 : drawn.Nests.FirstLost[r])))
                    visits.AppendLine(CultureInfo.InvariantCulture, $"{name},{nest},{day},{(day <= drawn.Nests.LastIntact[r] ? "intact" : "depredated")}");
            }
        }

        return new Dictionary<string, string>(StringComparer.Ordinal)
        {
            ["datapackage.json"] = $$$"""{"season":{"name":"{{{label}}}","year":{{{label}}},"check_days":[14,28],"trial_days":28,"cover_classes":[{"name":"grass","role":"grass"}]}}""",
            ["pastures.csv"] = "property,pasture\n" + string.Concat(Names.Take(Design.Pastures).Select(p => Property(p) + "," + p + "\n")),
            ["transects.csv"] = transects.ToString(),
            ["nests.csv"] = nests.ToString(),
            ["visits.csv"] = visits.ToString(),
            ["events.csv"] = "property,pasture,transect,from,to,kind\n" + string.Concat(Events(year).Select(e => e + "\n")),
        };
    }
}

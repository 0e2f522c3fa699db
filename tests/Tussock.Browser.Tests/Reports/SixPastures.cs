using System.Collections.Immutable;
using Tussock.Records;
using Tussock.Reports;
using Tussock.Reports.Landowner;
using Tussock.Reports.Technical;
using Tussock.Results;
using Tussock.Simulation;
using Tussock.Words;

namespace Tussock.Browser.Tests.Reports;

/// <summary>Pages to print: those of the built-in season, and of the same land as one property of six pastures with long names.</summary>
internal static class SixPastures
{
    private static readonly Lazy<ImmutableArray<ReportPage>> LazyPages = new(Make);

    internal static ImmutableArray<ReportPage> Pages => LazyPages.Value;

    private static ImmutableArray<ReportPage> Make()
    {
        var making = new ReportMaking("0.0.0", 1, new DateOnly(2026, 7, 1), 12);
        var demo = NumbersOf(DemoSeason.Write(1));
        var six = NumbersOf(AsSix(DemoSeason.Write(1)));
        return
        [
            .. LandownerPages.Of(demo, making, Catalogue.English), .. HalfwayNotes.Of(demo.Results, making, Catalogue.English), TechnicalReport.Of(demo, making, Catalogue.English),
            .. LandownerPages.Of(six, making, Catalogue.English).Select(p => p with { Name = "six-" + p.Name }), .. HalfwayNotes.Of(six.Results, making, Catalogue.English).Select(p => p with { Name = "six-" + p.Name }),
        ];
    }

    private static ReportNumbers NumbersOf(SeasonTables tables) => ReportNumbers.Of(SeasonResults.Of(SeasonReading.Read(tables, out _)!));

    /// <summary>Two Windmills becomes the sixth pasture of Thirteen Gates.</summary>
    private static SeasonTables AsSix(SeasonTables tables) => tables with { Tables = [.. tables.Tables.Select(Renamed)] };

    private static RecordTable Renamed(RecordTable table)
    {
        var (property, pasture) = (table.IndexOf("property"), table.IndexOf("pasture"));
        if (pasture < 0) return table;
        var rows = table.Rows.Select(r => r with { Cells = [.. r.Cells.Select((c, i) => i == property && c.Length > 0 ? "Thirteen Gates" : i == pasture ? Name(c) : c)] });
        return table with { Rows = [.. table.Kind == RecordKind.Pastures ? rows.DistinctBy(r => r.Cells[pasture]) : rows] };
    }

    private static string Name(string pasture) => pasture switch
    {
        "House Side" or "Far Side" => "Windmill Side",
        "East Pasture" => "East Pasture by the Caliche Road",
        _ => pasture,
    };
}

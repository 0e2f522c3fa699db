using System.Collections.Immutable;
using Tussock.Records;
using Tussock.Reports;
using Tussock.Reports.Landowner;
using Tussock.Reports.Technical;
using Tussock.Results;
using Tussock.Simulation;
using Tussock.Words;

namespace Tussock.Edges.Tests.Reports;

/// <summary>Invented seasons for reports, computed once.</summary>
public static class ReportSeasons
{
    private static readonly Lazy<ReportNumbers> LazyDemo = new(() => NumbersOf(DemoSeason.Write(1)));
    private static readonly Lazy<ReportNumbers> LazyRenamed = new(() => NumbersOf(Renamed(DemoSeason.Write(1), "East Pasture", "<script>alert(1)</script>")));
    private static readonly Lazy<ReportNumbers> LazyAlone = new(() => NumbersOf(OnlyPasture(DemoSeason.Write(1), "East Pasture")));

    public static ReportNumbers Demo => LazyDemo.Value;

    /// <summary>The demo with a pasture whose name is markup.</summary>
    public static ReportNumbers Renamed1 => LazyRenamed.Value;

    /// <summary>The demo's trampled pasture, alone on its property.</summary>
    public static ReportNumbers Trampled => LazyAlone.Value;

    public static ReportMaking Making { get; } = new("0.0.0", 1, new DateOnly(2026, 7, 1), null);

    public static ImmutableArray<ReportPage> Landowner(ReportNumbers numbers) => LandownerPages.Of(numbers, Making, Catalogue.English);

    public static ReportPage Technical(ReportNumbers numbers) => TechnicalReport.Of(numbers, Making, Catalogue.English);

    private static ReportNumbers NumbersOf(SeasonTables tables) => ReportNumbers.Of(SeasonResults.Of(SeasonReading.Read(tables, out _)!));

    private static SeasonTables Renamed(SeasonTables tables, string from, string to) => tables with
    {
        Tables = [.. tables.Tables.Select(t => t with { Rows = [.. t.Rows.Select(r => r with { Cells = [.. r.Cells.Select(c => c == from ? to : c)] })] })],
    };

    private static SeasonTables OnlyPasture(SeasonTables tables, string pasture)
    {
        var lines = tables.Table(RecordKind.Transects)!;
        var (at, name) = (lines.IndexOf("pasture"), lines.IndexOf("transect"));
        var kept = lines.Rows.Where(r => r.Cells[at] == pasture).Select(r => r.Cells[name]).ToHashSet(StringComparer.Ordinal);
        return tables with
        {
            Tables =
            [
                .. tables.Tables.Select(t => t.IndexOf("pasture") is var p and >= 0 ? t with { Rows = [.. t.Rows.Where(r => r.Cells[p] == pasture)] }
                    : t.IndexOf("transect") is var l and >= 0 ? t with { Rows = [.. t.Rows.Where(r => kept.Contains(r.Cells[l]))] } : t),
            ],
        };
    }
}

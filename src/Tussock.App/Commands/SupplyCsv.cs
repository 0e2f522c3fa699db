using System.Collections.Immutable;
using System.Globalization;
using Tussock.Exchange.SeasonFolder;
using Tussock.Provisions;
using Tussock.Words;

namespace Tussock.App.Commands;

/// <summary>What to load as a table for a spreadsheet, to be edited and summed there.</summary>
internal static class SupplyCsv
{
    internal const string File = "supplies.csv";

    private static readonly ImmutableArray<string> Columns = ["supply", "what", "pieces", "unit_cost", "cost"];

    /// <summary>The text; costs are empty where nobody gave one.</summary>
    internal static string Of(SupplyList list, Catalogue words) => CsvText.OfCells(Columns, [.. list.Rows.Select(r => (ImmutableArray<string>)[r.Name, words.Say("sheets.load." + r.Name), r.Count.ToString(CultureInfo.InvariantCulture), Money(r.UnitCost), Money(r.Cost)])]);

    private static string Money(double? cost) => cost is { } c ? c.ToString("0.00", CultureInfo.InvariantCulture) : "";
}

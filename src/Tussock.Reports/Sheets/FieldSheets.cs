using System.Collections.Immutable;
using Tussock.Provisions;
using Tussock.Records;
using Tussock.Reports.Print;
using Tussock.Words;

namespace Tussock.Reports.Sheets;

/// <summary>Sheets to print: setting out, checks, belts, remains, supplies and safety, permission and care. Letter and A4 alike, black on white, for pencil and gloves.</summary>
/// <remarks>
/// One transect a page (two or more where its nests do not fit), in walking order. What the season knows is printed; what the crew has to find out is a
/// line or a box. Nothing of earlier findings is printed, so that they cannot lead the eye; only what ended says so.
/// </remarks>
public static class FieldSheets
{
    private const string SetOut = "set-out";
    private const string Belt = "belt";
    private const string RemainsOf = "remains";
    private const string Supplies = "supplies-and-safety";
    private const string Permission = "permission-and-care";

    /// <summary>Names of the sheets of a season, in order, without making them.</summary>
    /// <param name="season">The season, planned or set out.</param>
    public static ImmutableArray<string> Names(Season season)
    {
        ArgumentNullException.ThrowIfNull(season);
        return [.. new[] { SetOut }.Concat(season.Settings.CheckDays.Select(CheckOf)).Concat([Belt, RemainsOf, Supplies, Permission]).Select(FileOf)];
    }

    /// <summary>All sheets of a season.</summary>
    /// <param name="season">The season, planned or set out.</param>
    /// <param name="making">How they were made.</param>
    /// <param name="app">Address of the field app, for the code on each page; null: no code.</param>
    /// <param name="words">The language.</param>
    /// <param name="needs">What supplies are reckoned from; null: survival at the season's benchmark, no costs.</param>
    /// <returns>One file for each kind of sheet, checks one for each check day.</returns>
    public static ImmutableArray<ReportPage> Of(Season season, ReportMaking making, Uri? app, Catalogue words, SupplyNeeds? needs = null)
    {
        ArgumentNullException.ThrowIfNull(season);
        ArgumentNullException.ThrowIfNull(making);
        ArgumentNullException.ThrowIfNull(words);
        var lines = WalkedLine.Of(season, app);
        var sheets = ImmutableArray.CreateBuilder<ReportPage>();
        Add(SetOut, "sheets.set_out", html => { foreach (var line in lines) SetOutSheet.Write(html, line); });
        foreach (var day in season.Settings.CheckDays)
        {
            Add(CheckOf(day), "sheets.check", html => { foreach (var line in lines) CheckSheet.Write(html, line, day); }, day);
        }

        Add(Belt, "sheets.belt", html => { foreach (var line in lines) BeltSheet.Write(html, line); });
        Add(RemainsOf, "sheets.remains", html => { foreach (var line in lines) RemainsSheet.Write(html, line); });
        Add(Supplies, "sheets.supplies", html => SuppliesSheet.Write(html, season, needs ?? Usual(season)));
        Add(Permission, "sheets.permit", html => PermissionSheet.Write(html, season));
        return sheets.ToImmutable();

        void Add(string name, string title, Action<Html> write, int day = 0)
        {
            var html = new Html(words);
            write(html);
            var heading = words.Say(Phrase.Of(title + "_title", ("season", season.Settings.Title), ("day", day)));
            var footer = words.Say(Phrase.Of("sheets.footer", ("season", season.Settings.Title), ("version", making.Version), ("on", making.On)));
            sheets.Add(new ReportPage(FileOf(name), Sheet.Of(heading, words.Language, "sheets", html.ToString()), footer));
        }
    }

    /// <summary>Nobody knows yet how many nests will be lost: the benchmark stands for it.</summary>
    private static SupplyNeeds Usual(Season season) => new() { Survival = season.Settings.SurvivalBenchmark };

    private static string CheckOf(int day) => "check-day-" + Numbers.Whole(day);

    private static string FileOf(string name) => "sheet-" + name;
}

using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Fieldwork;
using Tussock.Records;
using Tussock.Reports.Landowner;
using Tussock.Wayfinding;

namespace Tussock.Reports.Sheets;

/// <summary>A transect as its sheets need it: its stations in walking order and what is known of each.</summary>
internal sealed class WalkedLine
{
    private readonly HashSet<Nest> ended;

    private WalkedLine(Season season, SeasonWays ways, Uri? app, Transect transect, ImmutableArray<Nest> nests, HashSet<Nest> ended) =>
        (Season, Ways, App, Transect, Nests, this.ended) = (season, ways, app, transect, nests, ended);

    internal Season Season { get; }

    /// <summary>The ways back to the season's nests.</summary>
    internal SeasonWays Ways { get; }

    /// <summary>Address of the field app; null: none.</summary>
    internal Uri? App { get; }

    internal Transect Transect { get; }

    /// <summary>Its stations by number.</summary>
    internal ImmutableArray<Nest> Nests { get; }

    internal SeasonSettings Settings => Season.Settings;

    /// <summary>The season's lines: pasture by pasture, line 2 before line 10.</summary>
    internal static ImmutableArray<WalkedLine> Of(Season season, Uri? app)
    {
        var nests = season.Nests.ToLookup(n => n.Transect);
        var lost = SeasonFates.Of(season).Rows.Where(f => f.Day14 == FateAt.Lost).Select(f => f.Nest).ToHashSet();
        var ways = new SeasonWays(season);
        return [.. season.Transects.OrderBy(t => t.Pasture.Property, NaturalOrder.Names).ThenBy(t => t.Pasture.Name, NaturalOrder.Names).ThenBy(t => t.Name, NaturalOrder.Names)
            .Select(t => new WalkedLine(season, ways, app, t, [.. nests[t].OrderBy(n => n.Number)], lost))];
    }

    /// <summary>Whether the nest was found lost at an early check: its flag still stands, and only the washer is to be picked up.</summary>
    internal bool IsEnded(Nest nest, int checkDay) => checkDay > Settings.CheckDays[0] && ended.Contains(nest);

    /// <summary>Date of a check and its window; null while the line is only planned.</summary>
    internal CheckWindow? Check(int day) => Transect.SetOn is { } set ? CheckWindow.Of(set, day, Settings.WindowDays) : null;

    /// <summary>Stations in pages of about equal length, none longer than <paramref name="most"/>; a line without stations gets <paramref name="blank"/> empty ones.</summary>
    internal IEnumerable<(int Page, int Pages, ImmutableArray<Station> Stations)> Pages(int most, int blank = 12)
    {
        ImmutableArray<Station> all = Nests.IsEmpty ? [.. Enumerable.Range(1, blank).Select(i => new Station(i, null))] : [.. Nests.Select(n => new Station(n.Number, n))];
        var pages = (all.Length + most - 1) / most;
        for (var page = 0; page < pages; page++) yield return (page + 1, pages, all[(all.Length * page / pages)..(all.Length * (page + 1) / pages)]);
    }

    /// <summary>The cover class whose turn it is at a station: written in the plan, else the nest's own while it is planned, else none is meant.</summary>
    internal static string Turn(Station station) => station.Nest is not { } nest ? "" : nest.Source.Text("class_due") is { Length: > 0 } due ? due : nest.Cover;
}

/// <summary>A station on a sheet.</summary>
/// <param name="Number">Number along the line.</param>
/// <param name="Nest">What the season knows of it; null on an empty sheet.</param>
internal readonly record struct Station(int Number, Nest? Nest);

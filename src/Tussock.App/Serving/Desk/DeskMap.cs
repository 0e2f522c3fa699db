using System.Collections.Immutable;
using System.Globalization;
using Microsoft.AspNetCore.Http;
using Tussock.Desk;
using Tussock.Exchange.GeoJson;
using Tussock.Land;
using Tussock.Records;
using Tussock.Results;

namespace Tussock.App.Serving.Desk;

/// <summary>The map's own addresses: what it draws, and the boundary of a pasture as corners one can write.</summary>
internal sealed class DeskMap(ServedSeason served)
{
    private const int MostCorners = 5000;
    private readonly KeptText<(Season? Season, ReportNumbers? Numbers)> made = new();

    /// <summary>The map as JSON, made once for each answer.</summary>
    internal async Task AnswerAsync(HttpContext context, DeskAnswer answer)
    {
        var text = await made.OfAsync((answer.Season, answer.Numbers), () => MapText.Of(answer));
        await text.AnswerAsync(context, "application/json; charset=utf-8");
    }

    /// <summary>The form of a pasture's boundary as it stands.</summary>
    internal static BoundaryForm Form(DeskAnswer answer, Pasture pasture, bool isSaved)
    {
        var corners = Corners(answer.Tables, pasture);
        return new BoundaryForm(pasture, corners, corners, [], isSaved);
    }

    /// <summary>The pasture whose record has this id; null when there is none.</summary>
    internal static Pasture? Pasture(DeskAnswer answer, string id) => Guid.TryParse(id, out var guid) ? answer.Season?.Pastures.FirstOrDefault(p => p.Source.Text("id").Equals(guid.ToString(), StringComparison.OrdinalIgnoreCase)) : null;

    /// <summary>Takes a boundary in; what keeps it from being taken is told on the same page, with what was typed.</summary>
    /// <returns>The form to show again; null when it is on disk.</returns>
    internal BoundaryForm? Write(DeskAnswer answer, Pasture pasture, string typed, string shown, string by)
    {
        var (rings, wrong) = Read(typed);
        if (!wrong.IsEmpty) return new BoundaryForm(pasture, typed, shown, wrong, IsSaved: false);
        var isStale = false;
        var isBroken = false;
        SeasonTables Edited(SeasonTables tables)
        {
            isStale = isBroken = false;
            if (Corners(tables, pasture).ReplaceLineEndings("\n") != shown.ReplaceLineEndings("\n"))
            {
                isStale = true;
                return tables;
            }

            var area = BoundaryText.FromRings(rings);
            var text = BoundaryText.With(tables.Texts.GetValueOrDefault(BoundaryText.File), new Dictionary<(string, string), Exchange.Places.MapArea> { [(pasture.Property, pasture.Name)] = area });
            isBroken = text is null;
            return text is null ? tables : tables with { Texts = tables.Texts.SetItem(BoundaryText.File, text) };
        }

        if (Corners(answer.Tables, pasture).ReplaceLineEndings("\n") == typed.ReplaceLineEndings("\n")) return null;
        served.File.Edit(served.Season.Name, "map", Edited, by, served.Clock.GetUtcNow());
        if (isBroken) return new BoundaryForm(pasture, typed, shown, [Phrase.Of("maps.no_geojson")], IsSaved: false);
        if (!isStale) return null;
        // Saving once more, with both in view, is a decision.
        var now = Corners(served.File.States(served.Season.Name).Tables, pasture);
        return new BoundaryForm(pasture, typed, now, [Phrase.Of("desk.boundary_stale")], IsSaved: false);
    }

    private static string Corners(SeasonTables tables, Pasture pasture)
    {
        if (!tables.Texts.TryGetValue(BoundaryText.File, out var text) || !BoundaryText.Read(text).TryGetValue((pasture.Property, pasture.Name), out var area)) return "";
        return string.Join("\n\n", area.Pieces.SelectMany(p => p.Rings).Select(r => string.Join('\n', r.Take(r.Length - 1).Select(c => Words.Numbers.Fixed(c.Latitude, 6) + ", " + Words.Numbers.Fixed(c.Longitude, 6)))));
    }

    private static (ImmutableArray<ImmutableArray<Position>> Rings, ImmutableArray<Phrase> Wrong) Read(string typed)
    {
        var rings = new List<ImmutableArray<Position>>();
        var wrong = ImmutableArray.CreateBuilder<Phrase>();
        var ring = ImmutableArray.CreateBuilder<Position>();
        var lines = typed.ReplaceLineEndings("\n").Split('\n');
        if (lines.Length > MostCorners) return ([], [Phrase.Of("desk.boundary_long", ("most", MostCorners))]);
        for (var i = 0; i <= lines.Length; i++)
        {
            var line = i < lines.Length ? lines[i].Trim() : "";
            if (line.Length > 0)
            {
                if (Corner(line) is { } corner) ring.Add(corner);
                else wrong.Add(Phrase.Of("desk.boundary_corner", ("line", i + 1), ("text", TableCheck.Shown(line))));
                continue;
            }

            if (ring.Count == 0) continue;
            if (ring.Count > 1 && ring[0] == ring[^1]) ring.RemoveAt(ring.Count - 1);
            if (ring.Count < 3) wrong.Add(Phrase.Of("desk.boundary_few", ("count", ring.Count)));
            else if (Crossing(ring) is { } crossing) wrong.Add(Phrase.Of("desk.boundary_crosses", ("ring", rings.Count + 1), ("from", crossing.First + 1), ("to", crossing.Second + 1)));
            rings.Add(ring.ToImmutable());
            ring.Clear();
        }

        if (rings.Count == 0 && wrong.Count == 0) wrong.Add(Phrase.Of("desk.boundary_empty"));
        return ([.. rings], wrong.ToImmutable());
    }

    private static Position? Corner(string line)
    {
        var parts = line.Split([' ', ',', ';', '\t'], StringSplitOptions.RemoveEmptyEntries);
        return parts.Length == 2 && Cell.Number(parts[0]) is { } latitude and >= -90 and <= 90 && Cell.Number(parts[1]) is { } longitude and >= -180 and <= 180 ? new Position(latitude, longitude) : null;
    }

    /// <summary>Two sides of a ring that cross, by the number of their first corner; null when none do. Sides that share a corner don't.</summary>
    private static (int First, int Second)? Crossing(ImmutableArray<Position>.Builder ring)
    {
        var n = ring.Count;
        for (var i = 0; i < n; i++)
        {
            for (var k = i + 2; k < n; k++)
            {
                if (i == 0 && k == n - 1) continue;
                if (Turns(ring[i], ring[i + 1], ring[k]) * Turns(ring[i], ring[i + 1], ring[(k + 1) % n]) < 0 && Turns(ring[k], ring[(k + 1) % n], ring[i]) * Turns(ring[k], ring[(k + 1) % n], ring[i + 1]) < 0) return (i, k);
            }
        }

        return null;
    }

    private static int Turns(Position a, Position b, Position c) => Math.Sign(((b.Longitude - a.Longitude) * (c.Latitude - a.Latitude)) - ((b.Latitude - a.Latitude) * (c.Longitude - a.Longitude)));
}

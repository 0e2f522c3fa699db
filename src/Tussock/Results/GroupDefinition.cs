using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Results;

/// <summary>A group of nests before anything is estimated: what it is, and which rows of the season's columns it has (ascending).</summary>
internal sealed record GroupDefinition(GroupLevel Level, string Name, int[] Rows)
{
    internal Pasture? Pasture { get; init; }

    internal string? Property { get; init; }

    internal string? Cover { get; init; }

    internal string? Year { get; init; }

    /// <summary>All groups of a season: season, properties, pastures, transects, cover classes, pastures by class; of pooled seasons also years and pastures by year.</summary>
    internal static ImmutableArray<GroupDefinition> Of(Season season, NestSpans spans)
    {
        var groups = ImmutableArray.CreateBuilder<GroupDefinition>();
        groups.Add(new GroupDefinition(GroupLevel.Season, season.Settings.Name, [.. Enumerable.Range(0, spans.Count)]));
        foreach (var property in season.Pastures.Select((p, i) => (p.Property, i)).GroupBy(p => p.Property, StringComparer.Ordinal))
        {
            var own = property.Select(p => p.i).ToHashSet();
            groups.Add(new GroupDefinition(GroupLevel.Property, property.Key, Matching(spans, r => own.Contains(spans.Pasture[r]))) { Property = property.Key });
        }

        var byPasture = By(spans.Pasture, season.Pastures.Length);
        for (var i = 0; i < season.Pastures.Length; i++) groups.Add(new GroupDefinition(GroupLevel.Pasture, season.Pastures[i].Name, byPasture[i]) { Pasture = season.Pastures[i], Property = season.Pastures[i].Property });
        var byTransect = By(spans.Transect, season.Transects.Length);
        for (var i = 0; i < season.Transects.Length; i++)
        {
            if (byTransect[i].Length == 0) continue;
            var transect = season.Transects[i];
            groups.Add(new GroupDefinition(GroupLevel.Transect, transect.Name, byTransect[i]) { Pasture = transect.Pasture, Property = transect.Pasture.Property });
        }

        var byCover = By(spans.Cover, spans.CoverNames.Length);
        for (var i = 0; i < spans.CoverNames.Length; i++) groups.Add(new GroupDefinition(GroupLevel.Cover, spans.CoverNames[i], byCover[i]) { Cover = spans.CoverNames[i] });
        AddPastureCovers(season, spans, byPasture, groups);
        if (season.Tables.Pooled is { } pooled) AddYears(season, pooled.Years, byTransect, groups);
        return groups.ToImmutable();
    }

    private static void AddPastureCovers(Season season, NestSpans spans, int[][] byPasture, ImmutableArray<GroupDefinition>.Builder groups)
    {
        for (var i = 0; i < season.Pastures.Length; i++)
        {
            for (var c = 0; c < spans.CoverNames.Length; c++)
            {
                var rows = Array.FindAll(byPasture[i], r => spans.Cover[r] == c);
                if (rows.Length == 0) continue;
                var pasture = season.Pastures[i];
                groups.Add(new GroupDefinition(GroupLevel.PastureCover, pasture.Name + ", " + spans.CoverNames[c], rows) { Pasture = pasture, Property = pasture.Property, Cover = spans.CoverNames[c] });
            }
        }
    }

    private static void AddYears(Season season, ImmutableArray<string> years, int[][] byTransect, ImmutableArray<GroupDefinition>.Builder groups)
    {
        int[] Rows(string year, Pasture? pasture) =>
            [.. Enumerable.Range(0, season.Transects.Length).Where(t => season.Transects[t].Source.Text(PooledYears.Column) == year && (pasture is null || season.Transects[t].Pasture == pasture)).SelectMany(t => byTransect[t]).Order()];
        foreach (var year in years) groups.Add(new GroupDefinition(GroupLevel.Year, year, Rows(year, null)) { Year = year });
        foreach (var pasture in season.Pastures)
        {
            foreach (var year in years)
            {
                if (Rows(year, pasture) is { Length: > 0 } rows) groups.Add(new GroupDefinition(GroupLevel.PastureYear, pasture.Name + ", " + year, rows) { Pasture = pasture, Property = pasture.Property, Year = year });
            }
        }
    }

    private static int[] Matching(NestSpans spans, Func<int, bool> keep) => [.. Enumerable.Range(0, spans.Count).Where(keep)];

    private static int[][] By(int[] column, int count)
    {
        var lists = new List<int>[count];
        for (var i = 0; i < count; i++) lists[i] = [];
        for (var row = 0; row < column.Length; row++) lists[column[row]].Add(row);
        return Array.ConvertAll(lists, l => l.ToArray());
    }
}

using System.Collections.Immutable;
using Tussock.Cover;
using Tussock.Records;

namespace Tussock.Results;

/// <summary>Clump density of the season and its parts, for all classes together and for each.</summary>
internal static class DensityRows
{
    internal static ImmutableArray<DensityRow> Of(Season season, Belts belts)
    {
        if (belts.Units.IsEmpty) return [];
        var rows = ImmutableArray.CreateBuilder<DensityRow>();
        var byPasture = belts.Units.ToLookup(u => u.Pasture);
        var byTransect = belts.Units.ToLookup(u => u.Transect);
        Add(rows, GroupLevel.Season, season.Settings.Name, null, belts.Units, season, belts);
        foreach (var property in season.Pastures.Select((p, i) => (p.Property, i)).GroupBy(p => p.Property, StringComparer.Ordinal))
        {
            Add(rows, GroupLevel.Property, property.Key, property.Key, [.. property.SelectMany(p => byPasture[p.i])], season, belts);
        }

        for (var i = 0; i < season.Pastures.Length; i++) Add(rows, GroupLevel.Pasture, season.Pastures[i].Name, season.Pastures[i].Property, [.. byPasture[i]], season, belts);
        for (var i = 0; i < season.Transects.Length; i++) Add(rows, GroupLevel.Transect, season.Transects[i].Name, season.Transects[i].Pasture.Property, [.. byTransect[i]], season, belts);
        return rows.ToImmutable();
    }

    /// <summary>Density of a group's units under the season's own question.</summary>
    internal static ClumpDensity OfAll(IEnumerable<BeltUnit> units, Belts belts, SeasonSettings settings) => ClumpDensity.Of(units, belts.Question(settings));

    private static void Add(ImmutableArray<DensityRow>.Builder rows, GroupLevel level, string name, string? property, ImmutableArray<BeltUnit> units, Season season, Belts belts)
    {
        if (units.IsEmpty) return;
        var question = belts.Question(season.Settings);
        rows.Add(new DensityRow(level, name, property, null, ClumpDensity.Of(units, question)));
        if (level == GroupLevel.Transect) return;
        for (var c = 0; c < belts.Classes.Length; c++)
        {
            if (units.Any(u => u.Cover == c)) rows.Add(new DensityRow(level, name, property, belts.Classes[c], ClumpDensity.Of(units, question with { Classes = [c] })));
        }
    }
}

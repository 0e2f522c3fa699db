using System.Collections.Immutable;
using Tussock.Cover;
using Tussock.Measures;
using Tussock.Records;

namespace Tussock.Results;

/// <summary>The clump density of each line by its own belts, as an effect in survival models.</summary>
internal static class LineDensities
{
    /// <summary>What a line without a clump counts as.</summary>
    private const double HalfAClump = 0.5;

    /// <summary>Clumps an acre by the name of the line; a line without a counted segment is not among them.</summary>
    /// <remarks>Σ clumps / Σ area over its counted segments, of the classes that count towards the benchmark; no clump at all counts as half a clump, since a density of 0 has no logarithm.</remarks>
    internal static ImmutableDictionary<string, double> Of(Season season, Belts belts)
    {
        var question = belts.Question(season.Settings);
        var densities = ImmutableDictionary.CreateBuilder<string, double>(StringComparer.Ordinal);
        foreach (var line in SegmentDensity.Along(belts.Units, question).Where(s => s.IsCounted).GroupBy(s => season.Transects[s.Transect].Line, StringComparer.Ordinal))
        {
            var clumps = line.Sum(s => s.Clumps);
            densities.Add(line.Key, Area.PerAcre((clumps > 0 ? clumps : HalfAClump) / line.Sum(s => s.AreaM2)));
        }

        return densities.ToImmutable();
    }
}

using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Results;

/// <summary>How many times as many nests in other cover as in grass survive the trial, against the clump density of the line.</summary>
/// <param name="Grass">Cover classes whose role is grass, of watched nests.</param>
/// <param name="Other">The other classes.</param>
/// <param name="Curve">The ratio by density, ascending.</param>
/// <param name="Walked">Clumps an acre of the lines that tell, ascending, one a line.</param>
/// <remarks>May be shared between threads.</remarks>
public sealed record DensityRatio(ImmutableArray<string> Grass, ImmutableArray<string> Other, ImmutableArray<RatioAtDensity> Curve, ImmutableArray<double> Walked)
{
    /// <summary>How far beyond the densities walked the curve goes to show where it crosses 1.</summary>
    private const double FarthestBeyond = 3;

    private const double Margin = 1.12;

    private const int Steps = 60;

    /// <summary>The curve of a season's own model of parity; a reason where it can't be had.</summary>
    internal static Answer<DensityRatio> Of(SeasonResults results)
    {
        var parity = results.Parity;
        if (parity is not { Fit: not null, Walked: { } walked }) return new NoAnswer(parity.PerAcre.Why ?? Phrase.Of("parity.no_belts"));
        var (least, most) = Ends(walked, parity.PerAcre.Value);
        var curve = Enumerable.Range(0, Steps + 1).Select(i => least * Math.Pow(most / least, (double)i / Steps)).Select(d => new RatioAtDensity(d, parity.SurvivalRatioAt(d, results.Trial.Days), d >= walked.Least && d <= walked.Most)).ToImmutableArray();
        if (curve.FirstOrDefault(c => c.Ratio.Value is null) is { } none) return new NoAnswer(none.Ratio.Why!);
        var spans = results.Fates.Spans;
        var watched = Enumerable.Range(0, spans.Count).Where(spans.IsWatched).ToArray();
        var grass = results.Season.Settings.CoverClasses.Where(c => c.Role == CoverRole.Grass).Select(c => c.Name).ToHashSet(StringComparer.Ordinal);
        var covers = watched.Select(row => spans.Cover[row]).Distinct().Order().Select(c => spans.CoverNames[c]).ToArray();
        var densities = LineDensities.Of(results.Season, Belts.Of(results.Season));
        var lines = watched.Select(row => spans.LineNames[spans.Line[row]]).Distinct(StringComparer.Ordinal).Where(densities.ContainsKey).Select(line => densities[line]).Order();
        return new DensityRatio([.. covers.Where(grass.Contains)], [.. covers.Where(c => !grass.Contains(c))], curve, [.. lines]);
    }

    /// <summary>The densities walked with a margin, and the parity density where it is not far beyond them.</summary>
    private static (double Least, double Most) Ends((double Least, double Most) walked, double? parity)
    {
        var (least, most) = walked;
        if (parity is { } d && d >= least / FarthestBeyond && d <= most * FarthestBeyond) (least, most) = (Math.Min(least, d), Math.Max(most, d));
        return (least / Margin, most * Margin);
    }
}

/// <summary>The ratio of survivals at one density.</summary>
/// <param name="PerAcre">Clumps an acre.</param>
/// <param name="Ratio">Survival in other cover by survival in grass, each averaged over transects.</param>
/// <param name="IsWalked">Whether the density lies among those walked.</param>
public sealed record RatioAtDensity(double PerAcre, Estimate Ratio, bool IsWalked);

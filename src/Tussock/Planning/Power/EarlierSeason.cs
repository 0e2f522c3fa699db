using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Records;
using Tussock.Results;
using Tussock.Survival;

namespace Tussock.Planning.Power;

/// <summary>What an earlier season says about the lines of the next: guidance for what can't be known before.</summary>
/// <param name="Name">Name of the season.</param>
/// <param name="Lines">Lines with a watched nest.</param>
/// <param name="NestsALine">Nests a line.</param>
/// <param name="Survival">Posterior mean of survival averaged over lines.</param>
/// <param name="LineSd">Posterior mean of τ.</param>
/// <param name="EarlyShare">Share of the hazard before the first check.</param>
/// <param name="Unknown">Share of nests whose fate at the end is not known.</param>
/// <param name="PerAcre">Clumps an acre; null without belts on at least two lines.</param>
/// <param name="DensityCv">Coefficient of variation of the lines' densities without what counting adds; null without belts on at least two lines.</param>
public sealed record EarlierSeason(string Name, int Lines, double NestsALine, double Survival, double LineSd, double EarlyShare, double Unknown, double? PerAcre, double? DensityCv)
{
    /// <summary>Reads the guidance of a season.</summary>
    /// <param name="season">The season.</param>
    /// <returns>The guidance; a reason when no nest was watched or the season has a single line, which says nothing about others.</returns>
    /// <remarks>
    /// The posterior of τ is the one behind the chance: with few lines it stays near its prior, whose mean is 0.8, so that few lines do not promise that lines are alike.
    /// Density: cv² = m·(se/D)² − m/clumps, 0 when counting alone would give more.
    /// </remarks>
    /// <source>Common practice, no source: posterior means of the model of the chance; ratio variance less the Poisson variance of counts.</source>
    /// <check>reference-seasons</check>
    public static Answer<EarlierSeason> Of(Season season)
    {
        ArgumentNullException.ThrowIfNull(season);
        var (first, days, window) = season.Settings.TrialNumbers;
        var trial = new Trial(first, days, window);
        var spans = SeasonFates.Of(season).Spans;
        var fit = TwoPiece.Fit(spans, trial);
        if (fit.Lines == 1) return NoAnswer.Because("power.earlier_one_line", ("season", season.Settings.Name));
        var belts = Belts.Of(season);
        var density = DensityRows.OfAll(belts.Units, belts, season.Settings);
        var hasBelts = density is { Lines: >= 2, Clumps: > 0, PerAcreBetweenLines: { Value: > 0, Se: not null } };
        var relative = hasBelts ? density.PerAcreBetweenLines.Se!.Value / density.PerAcreBetweenLines.Value!.Value : 0;
        return BenchmarkChance.AtOwnShape(spans, fit, season.Settings.SurvivalBenchmark, trial).Then(chance => new EarlierSeason(
            season.Settings.Name,
            chance.Lines,
            (double)spans.Count / chance.Lines,
            chance.Mean,
            chance.MeanSpread,
            chance.Phi,
            (double)spans.Day28.Count(f => f == FateAt.Unknown) / spans.Count,
            hasBelts ? density.PerAcreBetweenLines.Value : null,
            hasBelts ? Math.Sqrt(Math.Max(0, density.Lines * ((relative * relative) - (1 / density.Clumps)))) : null));
    }

    /// <summary>Several seasons together: the plain mean of each number that they have.</summary>
    /// <param name="seasons">At least one.</param>
    /// <source>Common practice, no source: seasons count alike, whatever their size.</source>
    /// <check>reference-seasons</check>
    public static EarlierSeason Mean(ImmutableArray<EarlierSeason> seasons) => new(
        string.Join(", ", seasons.Select(s => s.Name)),
        seasons.Sum(s => s.Lines),
        seasons.Average(s => s.NestsALine),
        seasons.Average(s => s.Survival),
        seasons.Average(s => s.LineSd),
        seasons.Average(s => s.EarlyShare),
        seasons.Average(s => s.Unknown),
        seasons.Average(s => s.PerAcre),
        seasons.Average(s => s.DensityCv));
}

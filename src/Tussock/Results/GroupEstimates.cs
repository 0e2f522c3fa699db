using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Records;
using Tussock.Survival;

namespace Tussock.Results;

/// <summary>Computes every survival estimate of one group.</summary>
internal static class GroupEstimates
{
    internal static GroupResults Of(GroupDefinition group, SeasonFates fates, SeasonSettings settings, Trial trial, EarlierGroups? before = null)
    {
        var spans = fates.Spans.Rows(group.Rows);
        if (before?.Same(group, spans) is { } earlier) return earlier with { Spans = spans, Fates = [.. group.Rows.Select(r => fates.Rows[r])] };
        var first = CountedShare.Of(spans, trial, TrialDay.FirstCheck);
        var last = CountedShare.Of(spans, trial, TrialDay.End);
        var fit = TwoPiece.Fit(spans, trial);
        var posterior = PosteriorOf(group.Level, spans, fit, settings, trial);
        return new GroupResults
        {
            Level = group.Level,
            Name = group.Name,
            Property = group.Property,
            Pasture = group.Pasture?.Name,
            Cover = group.Cover,
            Year = group.Year,
            Spans = spans,
            Fates = [.. group.Rows.Select(r => fates.Rows[r])],
            Counts = FateCounts.Of(spans),
            Lines = fit.Lines,
            Day14 = first.Share,
            Day28 = last.Share,
            Day28Posterior = posterior.HasValue ? posterior.Value.Day28 : Estimate.None("posterior median, line effect integrated", posterior.Why),
            PredationOnly = PredationOnly.Of(spans, trial),
            Day28IfUnknownLost = last.IfUnknownLost,
            Day28IfUnknownSurvived = last.IfUnknownSurvived,
            DailySurvival = DailySurvival.Of(spans),
            DailySurvivalByFortnight = TwoPiece.DailySurvivalByFortnight(spans, trial),
            TwoPieceDay28 = fit.Survival28,
            WhyTwoPieceBeside = last.WhyTwoPieceBeside,
            Curve = HasCurve(group.Level) ? Turnbull.CurveFrom(spans) : NoAnswer.Because("results.no_curve_here"),
            Posterior = posterior,
            ChanceAtLeastBenchmark = posterior.Then(p => p.Chance),
        };
    }

    private static Answer<BenchmarkChance> PosteriorOf(GroupLevel level, NestSpans spans, TwoPieceFit fit, SeasonSettings settings, Trial trial) =>
        level == GroupLevel.Transect ? NoAnswer.Because("results.one_line_says_nothing") : BenchmarkChance.AtOwnShape(spans, fit, settings.SurvivalBenchmark, trial);

    private static bool HasCurve(GroupLevel level) => level is GroupLevel.Season or GroupLevel.Property or GroupLevel.Pasture or GroupLevel.Cover;
}

using System.Collections.Immutable;
using System.Globalization;
using Tussock.Cover;
using Tussock.Models;
using Tussock.Numerics;

namespace Tussock.Bench;

/// <summary>How often 95 % limits hold the truth, over invented seasons of the sizes that people walk.</summary>
/// <remarks>A season takes its chance from its own number, and counts are added in order: the same table at any number of threads.</remarks>
internal static class Coverage
{
    private const ulong Seed = 2026;
    private const double Day = 28, Parity = 300;

    private static readonly ImmutableArray<(int Lines, int Nests)> Sizes = [(6, 8), (6, 12), (6, 16), (12, 8), (12, 12), (12, 16), (24, 8), (24, 12), (24, 16)];
    private static readonly ImmutableArray<bool> IsOther = [false, true];

    /// <summary>What one season says: for each question whether its limits hold the truth, null where there are none.</summary>
    private readonly record struct Held(bool? Cover, bool? RobustCover, bool? Average, bool? RobustAverage, bool? Density, bool? Set, bool IsUnbounded);

    internal static void Run(int seasons)
    {
        Console.WriteLine("lines,nests,sd,cover_grouped,cover_robust,average_grouped,average_robust,density_grouped,parity_set,parity_bounded_set,parity_unbounded,parity_none");
        foreach (var sd in (double[])[0, 0.5, 1])
        {
            var truth = CoverTruth.Of(new LinesPlan { Sd = sd });
            foreach (var (lines, nests) in Sizes)
            {
                var plan = new LinesPlan { Lines = lines, NestsALine = nests, Sd = sd };
                var held = new Held[seasons];
                Ordered.For(seasons, s => held[s] = Season(plan, truth, s));
                Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{lines},{nests},{sd},{Share(held, h => h.Cover)},{Share(held, h => h.RobustCover)},{Share(held, h => h.Average)},{Share(held, h => h.RobustAverage)},{Share(held, h => h.Density)},{Share(held, h => h.Set)},{Share(held, h => h.IsUnbounded ? null : h.Set)},{Share(held, h => h.IsUnbounded)},{Share(held, h => h.Set is null)}"));
            }
        }
    }

    private static Held Season(LinesPlan plan, CoverTruth truth, int season)
    {
        var table = WalkedLines.Of(plan, Seeded.Of(Seed, (ulong)(2 * season) + 1)).Table("cover");
        var mixed = GroupedFit.Of(table, Link.LogHazard, new GroupedOptions { Profile = false });
        var robust = EffectsFit.Of(table, Link.LogHazard);
        PatternDays[] grass = [new([1, 0], Day)];
        var by = plan with { Density = -0.3, Cover = 0, CoverByDensity = 0.8 };
        var walked = WalkedLines.Of(by, Seeded.Of(Seed, (ulong)(2 * season) + 2));
        var parity = ParityDensity.Of(walked.Spans(), IsOther, walked.PerAcre());
        return new Held(
            mixed.HasValue ? Holds(mixed.Value.Effects[1].Coefficient, plan.Cover) : null,
            robust.HasValue ? Holds(robust.Value.Coefficients[1].Clustered, truth.AveragedCover) : null,
            mixed.HasValue ? Holds(GroupedSurvival.Average(mixed.Value, grass, Day), truth.AverageSurvival) : null,
            robust.HasValue ? Holds(SurvivalPrediction.At(robust.Value.Clustered, grass, Day), truth.AverageSurvival) : null,
            parity.Fit is { } fit ? Holds(fit.Effects[2].Coefficient, by.Density) : null,
            parity.Shape is { } shape ? shape != ParityShape.Bounded || Holds(parity.PerAcre, Parity) == true : null,
            parity.Shape is { } any && any != ParityShape.Bounded);
    }

    private static bool? Holds(Estimate estimate, double truth) => estimate is { Low: { } low, High: { } high } ? low <= truth && truth <= high : null;

    /// <summary>Percent of those that have an answer.</summary>
    private static string Share(Held[] held, Func<Held, bool?> of)
    {
        var answers = held.Select(of).OfType<bool>().ToArray();
        return answers.Length == 0 ? "" : (100.0 * answers.Count(yes => yes) / answers.Length).ToString("F1", CultureInfo.InvariantCulture);
    }
}

/// <summary>What is true on average over lines, computed without chance.</summary>
/// <param name="AverageSurvival">Survival of nests in grass to day 28, averaged over lines.</param>
/// <param name="AveragedCover">Effect of cover in the model without lines that comes nearest to the truth: what a fit without random intercepts estimates.</param>
internal readonly record struct CoverTruth(double AverageSurvival, double AveragedCover)
{
    private static readonly GaussHermite Rule = GaussHermite.Of(60);

    internal static CoverTruth Of(LinesPlan plan)
    {
        var maker = new ModelTableMaker(["intercept", "cover"]);
        maker.Group("all");
        for (var cover = 0; cover < 2; cover++)
        {
            double to14 = Survival(plan, cover, 14), to28 = Survival(plan, cover, 28);
            var pattern = maker.Pattern([1, cover]);
            maker.Watched(pattern, 14, to14 + to28);
            maker.LostWithin(pattern, 14, 1 - to28);
        }

        return new CoverTruth(Survival(plan, 0, 28), EffectsFit.Of(maker.Table(), Link.LogHazard).Value.Coefficients[1].Independent.Value!.Value);
    }

    private static double Survival(LinesPlan plan, int cover, double day)
    {
        var sum = 0.0;
        for (var k = 0; k < Rule.Nodes.Length; k++) sum += Rule.Weights[k] * Math.Exp(-day * Math.Exp(plan.Grass + (plan.Cover * cover) + (plan.Sd * Rule.Nodes[k])));
        return sum;
    }
}

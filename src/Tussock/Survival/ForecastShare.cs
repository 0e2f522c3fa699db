using Tussock.Fates;
using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>After the first check: what share of the watched nests will be whole at the end of the trial?</summary>
public static class ForecastShare
{
    /// <summary>The method, as results name it.</summary>
    public const string Method = "forecast from the nests so far, 10,000 draws: median, 10 and 90 % points; second half by a prior of its share of the hazard";

    /// <summary>Draws in all.</summary>
    internal const int Draws = 10_000;

    /// <summary>Values of φ, equally likely, each with as many draws.</summary>
    internal const int Shares = 20;

    /// <summary>Standard deviation of logit φ.</summary>
    private const double LogitSd = 0.75;

    /// <summary>Posterior points that weigh less than this share of the heaviest one are left out.</summary>
    private const double Least = 1e-6;

    /// <summary>The forecast.</summary>
    /// <param name="nests">One row a nest; what visits after the first check found is not looked at, nests not seen by then are in neither part of the share.</param>
    /// <param name="trial">Days of the trial.</param>
    /// <param name="seed">Seed of the draws.</param>
    /// <returns>Median and 80 % limits of the share of watched nests whole at the end of the trial, in [0, 1]; a reason when no nest was watched, when one line says nothing of others, or when a loss contradicts a share.</returns>
    /// <remarks>
    /// The model of <see cref="BenchmarkChance"/>, with φ, the share of the hazard before the first check, from logit φ ~ N(logit(c1/D), 0.75²) instead of fixed. The first half of a
    /// season says nothing about how hard the second will be, so φ is not learned from it: that prior is most of the width, and it is said. At each φ a point of the posterior is drawn, a level for
    /// each line given its own nests, and for each nest still whole whether it lasts from its last visit to the end. Same seed, same bits. Edges: all lost gives 0.
    /// Cost: <see cref="Shares"/> posteriors and 10,000 draws of every line; about a second for a season of 400 nests.
    /// </remarks>
    /// <source>Common practice, no source: posterior predictive draws.</source>
    /// <check>worked-by-hand</check>
    public static Estimate Of(NestSpans nests, Trial trial, ulong seed)
    {
        var phis = Enumerable.Range(0, Shares).Select(i => Exponentials.Expit(Exponentials.Logit(trial.FirstCheck / trial.Days) + LogitSd * Tails.NormalQuantile((i + 0.5) / Shares))).ToArray();
        var drawn = new double[Draws];
        var seen = AtFirstCheck(nests, trial);
        Phrase? why = null;
        for (var i = 0; i < phis.Length && why is null; i++)
        {
            var part = drawn.AsSpan(i * (Draws / Shares), Draws / Shares);
            why = Draw(seen, new HazardShape(phis[i], trial), Seeded.Of(seed, (ulong)i), part);
        }

        if (why is not null) return Estimate.None(Method, why) with { Level = 0.8 };
        Array.Sort(drawn);
        return new Estimate { Method = Method, Value = Point(drawn, 0.5), Low = Point(drawn, 0.1), High = Point(drawn, 0.9), Level = 0.8, Notes = [Phrase.Of("forecast.prior")] };
    }

    /// <summary>Draws shares at one shape of the hazard.</summary>
    /// <returns>Why there are none; null when they were drawn.</returns>
    internal static Phrase? Draw(NestSpans nests, HazardShape shape, Seeded chance, Span<double> into)
    {
        var read = LineLikelihoods.Of(nests, shape);
        if (!read.HasValue) return read.Why;
        if (read.Value.Lines.Length < 2) return Phrase.Of("chance.one_line");
        var left = StillWhole(nests, shape);

        // The posterior puts its lines into an order of its own.
        var points = ChancePosterior.Of([.. read.Value.Lines], 0).Points(Least).ToArray();
        var upTo = new double[points.Length];
        for (var i = 0; i < points.Length; i++) upTo[i] = points[i].Weight + (i == 0 ? 0 : upTo[i - 1]);
        for (var d = 0; d < into.Length; d++)
        {
            var at = Array.BinarySearch(upTo, chance.NextUniform() * upTo[^1]);
            var (beta, sd, _) = points[Math.Min(at < 0 ? ~at : at, points.Length - 1)];
            var whole = 0;
            for (var line = 0; line < left.Length; line++) whole += Survivors(read.Value.Lines[line], left[line], beta, sd, chance);
            into[d] = (double)whole / read.Value.Nests;
        }

        return null;
    }

    /// <summary>The nests as they are known after the first check: later visits are not looked at.</summary>
    internal static NestSpans AtFirstCheck(NestSpans nests, Trial trial)
    {
        double latest = trial.FirstCheck + trial.Window;
        double[] intact = new double[nests.Count], lost = new double[nests.Count], at = new double[nests.Count];
        for (var row = 0; row < intact.Length; row++)
        {
            at[row] = nests.LostAt[row] <= trial.FirstCheck ? nests.LostAt[row] : double.NaN;
            lost[row] = nests.FirstLost[row] <= latest ? nests.FirstLost[row] : double.PositiveInfinity;
            intact[row] = nests.LastIntact[row] <= latest ? nests.LastIntact[row] : trial.FirstCheck;
        }

        return new NestSpans
        {
            LastIntact = intact,
            FirstLost = lost,
            LostAt = at,
            Line = nests.Line,
            Transect = nests.Transect,
            Nest = nests.Nest,
            Cover = nests.Cover,
            Pasture = nests.Pasture,
            Cause = nests.Cause,
            Day14 = nests.Day14,
            Day28 = nests.Day28,
            LineNames = nests.LineNames,
            CoverNames = nests.CoverNames,
        };
    }

    /// <summary>For each line with a watched nest the share of the hazard that each nest still whole has before it.</summary>
    private static double[][] StillWhole(NestSpans nests, HazardShape shape)
    {
        var lines = Enumerable.Range(0, nests.Count).Where(nests.IsWatched).GroupBy(row => nests.Line[row]);
        return [.. lines.Select(line => line.Where(row => !nests.IsLost(row)).Select(row => shape.Upto(shape.Trial.Days) - shape.Upto(nests.LastIntact[row])).ToArray())];
    }

    private static int Survivors(LineLikelihood line, double[] left, double beta, double sd, Seeded chance)
    {
        if (left.Length == 0) return 0;
        var hazard = Math.Exp(Level(line, beta, sd, chance));
        var whole = 0;
        foreach (var share in left) if (chance.NextUniform() < Math.Exp(-hazard * share)) whole++;
        return whole;
    }

    /// <summary>Draws a line's log cumulative hazard given its nests: the inverse of its distribution on an even grid, linear between.</summary>
    private static double Level(LineLikelihood line, double beta, double sd, Seeded chance)
    {
        const int Steps = 64;
        double low = Math.Max(line.From, beta - 6 * sd), high = Math.Min(line.To, beta + 6 * sd);
        if (!(high > low)) return Math.Clamp(beta, Math.Min(line.From, line.To), line.To);
        Span<double> upTo = stackalloc double[Steps + 1];
        var (step, before) = ((high - low) / Steps, 0.0);
        for (var i = 0; i <= Steps; i++)
        {
            var u = low + i * step;
            var z = (u - beta) / sd;
            var density = Math.Exp(line.At(u) - line.Peak - z * z / 2);
            upTo[i] = i == 0 ? 0 : upTo[i - 1] + (before + density) / 2;
            before = density;
        }

        if (!(upTo[Steps] > 0)) return Math.Clamp(beta, low, high);
        var target = chance.NextUniform() * upTo[Steps];
        var at = 1;
        while (at < Steps && upTo[at] < target) at++;
        return low + (at - 1 + (target - upTo[at - 1]) / Math.Max(upTo[at] - upTo[at - 1], double.Epsilon)) * step;
    }

    private static double Point(double[] sorted, double share) => sorted[(int)Math.Ceiling(share * sorted.Length) - 1];
}

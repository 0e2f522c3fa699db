using System.Collections.Immutable;
using Tussock.Numerics;

namespace Tussock.Evidence;

/// <summary>Share of one culprit class among the losses of a group.</summary>
/// <param name="Culprit">Token of the class; the last is "not on the list".</param>
/// <param name="Share">From cameras alone.</param>
/// <param name="ShareWithRemains">From cameras, with the readings of all losses.</param>
/// <param name="Naive">Mean belief over the losses, confirmed ones as confirmed; null without a loss. Not an estimate of anything.</param>
public sealed record CulpritShare(string Culprit, Estimate Share, Estimate ShareWithRemains, double? Naive);

/// <summary>What the losses of a group are made of.</summary>
/// <param name="Losses">Lost nests.</param>
/// <param name="Confirmed">How many of them a camera confirmed.</param>
/// <param name="Shares">One row a class.</param>
public sealed record Composition(int Losses, int Confirmed, ImmutableArray<CulpritShare> Shares)
{
    /// <summary>Fewest confirmed losses for a share.</summary>
    public const int FewestConfirmed = 5;

    /// <summary>Number of times that lines are resampled.</summary>
    public const int Resamples = 999;

    private const string CamerasMethod = "confirmed by cameras, Jeffreys limits";
    private const string RemainsMethod = "double sampling of cameras and remains, 999 resamples of lines";

    /// <summary>Who takes the nests here, by class?</summary>
    /// <param name="nests">Nests of the group, any order; only lost ones count.</param>
    /// <param name="catalogue">Signs, classes and key.</param>
    /// <param name="camerasDrawn">Whether the cameras stood at nests chosen without regard to fate; if not, the share is labelled "where cameras stood".</param>
    /// <param name="seed">Seed of the resamples.</param>
    /// <returns>Shares in [0, 1]. Fewer than five confirmed losses: no share and the reason, the mean belief beside it.</returns>
    /// <remarks>
    /// Cameras: c/C with limits Beta(c + ½, C − c + ½), 0 and 1 at the ends; losses taken as independent. With remains: readings by the key alone,
    /// the same rule for every nest, so that no confirmed nest is read by what it taught. Interval: 2.5 and 97.5 % points over resampled lines.
    /// </remarks>
    /// <source>Brown, Cai &amp; DasGupta 2001, Statistical Science 16:101–133 (Jeffreys limits; from memory, to be confirmed); Tenenbein 1970, JASA 65:1350–1361 (from memory, to be confirmed).</source>
    /// <check>published-values</check>
    /// <check>worked-by-hand</check>
    public static Composition Of(IEnumerable<NestEvidence> nests, SignCatalogue catalogue, bool camerasDrawn, ulong seed)
    {
        // Lost nests in an order that does not depend on the order of rows, so that resamples don't either.
        var key = BeliefModel.KeyAlone(catalogue);
        var lost = nests.Where(n => n.IsLost).Select(n => new Loss(n, key.Of(n.Signs).Reading ?? catalogue.Culprits.Length, n.Confirmed is { } c ? catalogue.CulpritIndex(c) : -1))
            .OrderBy(l => l.Nest.Line).ThenBy(l => l.Reading).ThenBy(l => l.Truth).ToArray();
        var confirmed = lost.Count(l => l.Truth >= 0);
        var naive = MeanBelief(lost, catalogue);
        var why = lost.Length == 0 ? Phrase.Of("signs.share.no_losses") : confirmed < FewestConfirmed ? Phrase.Of("signs.share.few_confirmed", ("confirmed", confirmed)) : null;
        ImmutableArray<Phrase> notes = camerasDrawn ? [] : [Phrase.Of("signs.share.where_cameras_stood")];
        var remains = why is null ? WithRemains(lost, catalogue.Culprits.Length, seed) : null;
        var shares = catalogue.Culprits.Select((culprit, k) => new CulpritShare(
            culprit,
            why is not null ? Estimate.None(CamerasMethod, why) : Share(lost.Count(l => l.Truth == k), confirmed, CamerasMethod) with { Notes = notes },
            why is not null ? Estimate.None(RemainsMethod, why) : remains![k] with { Notes = notes },
            naive?[k]));
        return new Composition(lost.Length, confirmed, [.. shares]);
    }

    /// <summary>Share of all that count, with Jeffreys limits; all ≥ 1.</summary>
    internal static Estimate Share(int count, int all, string method) => new()
    {
        Method = method,
        Value = (double)count / all,
        Low = count == 0 ? 0 : Tails.BetaQuantile(0.025, count + 0.5, all - count + 0.5),
        High = count == all ? 1 : Tails.BetaQuantile(0.975, count + 0.5, all - count + 0.5),
    };

    private static double[]? MeanBelief(Loss[] lost, SignCatalogue catalogue)
    {
        if (lost.Length == 0) return null;
        var model = BeliefModel.Learn(catalogue, lost.Select(l => l.Nest));
        var mean = new double[catalogue.Culprits.Length];
        foreach (var loss in lost)
        {
            var belief = loss.Truth < 0 ? model.Of(loss.Nest.Signs) : null;
            for (var k = 0; k < mean.Length; k++) mean[k] += (belief is null ? (loss.Truth == k ? 1 : 0) : belief.Chances[k]) / lost.Length;
        }

        return mean;
    }

    private static Estimate[] WithRemains(Loss[] lost, int classes, ulong seed)
    {
        var shares = SharesOf(lost, classes)!;
        var lines = lost.GroupBy(l => l.Nest.Line).Select(g => g.ToArray()).ToArray();
        var draws = lines.Length < 2 ? [] : Draws(lines, classes, seed);
        return [.. shares.Select((share, k) => Bounded(new Estimate { Method = RemainsMethod, Value = Math.Clamp(share, 0, 1) }, lines.Length, [.. draws.Select(d => d[k]).Order()]))];
    }

    private static Estimate Bounded(Estimate share, int lines, double[] draws)
    {
        if (lines < 2) return share with { Why = Phrase.Of("signs.share.one_line") };
        if (draws.Length < 0.9 * Resamples) return share with { Why = Phrase.Of("signs.share.few_resampled") };
        var low = draws[(int)Math.Round(0.025 * (draws.Length + 1)) - 1];
        var high = draws[(int)Math.Round(0.975 * (draws.Length + 1)) - 1];
        return low == high ? share with { Why = Phrase.Of("signs.share.never_seen") } : share with { Low = Math.Clamp(low, 0, 1), High = Math.Clamp(high, 0, 1) };
    }

    // A resample without any confirmed nest has no shares and is left out.
    private static List<double[]> Draws(Loss[][] lines, int classes, ulong seed)
    {
        var draws = new List<double[]>(Resamples);
        for (var i = 1; i <= Resamples; i++)
        {
            var chance = Seeded.Of(seed, (ulong)i);
            var drawn = new List<Loss>();
            for (var l = 0; l < lines.Length; l++) drawn.AddRange(lines[chance.NextBelow(lines.Length)]);
            if (SharesOf([.. drawn], classes) is { } shares) draws.Add(shares);
        }

        return draws;
    }

    private static double[]? SharesOf(Loss[] lost, int classes) =>
        Tenenbein.Shares([.. lost.Select(l => l.Reading)], [.. lost.Select(l => l.Truth)], classes);

    private readonly record struct Loss(NestEvidence Nest, int Reading, int Truth);
}

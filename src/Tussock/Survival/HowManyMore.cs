using Tussock.Numerics;

namespace Tussock.Survival;

/// <summary>How many more lines, walked in the same way, would probably settle whether survival reaches the benchmark.</summary>
/// <param name="Lines">Extra lines, 0 when the call is clear already.</param>
/// <param name="Nests">Extra nests: the lines times this season's nests a line, rounded up.</param>
public sealed record HowManyMore(int Lines, int Nests)
{
    /// <summary>The most extra lines that are looked at.</summary>
    public const int Most = 60;

    /// <summary>The chance of a clear call that is asked for.</summary>
    public const double Enough = 0.8;

    /// <summary>How many more lines are needed for a clear call with a chance of 0.8?</summary>
    /// <param name="chance">The posterior of the group.</param>
    /// <param name="level">Call level c of a number of lines, in (0.5, 1), null where no call is made.</param>
    /// <returns>The smallest number of extra lines; a reason when it is more than 60, or the season said nothing about survival.</returns>
    /// <remarks>
    /// A = posterior mean of logit π − logit B, s² its variance, ω² = m/(1/s² − 1/1.5²) the variance that one line adds,
    /// s_M² = 1/(1/s² + M/ω²). P(clear after M more) = Φ((A − z·s_M)/√(s² − s_M²)) + Φ((−A − z·s_M)/√(s² − s_M²)), z = Φ⁻¹(c), where c is the
    /// level of the m + M lines that the call will rest on: four lines need c = 0.90, and two more of them bring it to 0.85.
    /// A normal approximation: within 0.07 of simulated chances. Clear already (c of the present lines): 0.
    /// </remarks>
    /// <source>Common practice, no source: normal approximation to the preposterior chance of a decision.</source>
    /// <check>reference-seasons</check>
    public static Answer<HowManyMore> For(BenchmarkChance chance, Func<int, double?> level)
    {
        if (level(chance.Lines) is { } now && (chance.Chance >= now || chance.Chance <= 1 - now)) return new HowManyMore(0, 0);
        var precision = 1 / (chance.SdLogit * chance.SdLogit);
        var prior = 1 / (ChancePrior.OfRecord.LogitSd * ChancePrior.OfRecord.LogitSd);
        if (precision <= prior) return NoAnswer.Because("chance.nothing_learned");
        for (var more = 1; more <= Most; more++)
        {
            if (level(chance.Lines + more) is not { } c || ClearAfter(chance, precision, (precision - prior) / chance.Lines, more, c) < Enough) continue;
            return new HowManyMore(more, (int)Math.Ceiling((double)more * chance.Nests / chance.Lines));
        }

        return NoAnswer.Because("chance.too_near", ("lines", Most));
    }

    private static double ClearAfter(BenchmarkChance chance, double precision, double ofLine, int more, double c)
    {
        var away = chance.MeanLogit - Math.Log(chance.Benchmark / (1 - chance.Benchmark));
        var after = 1 / (precision + (more * ofLine));
        var moves = Math.Sqrt((1 / precision) - after);
        var needed = Tails.NormalQuantile(c) * Math.Sqrt(after);
        return Tails.NormalBelow((away - needed) / moves) + Tails.NormalBelow((-away - needed) / moves);
    }
}

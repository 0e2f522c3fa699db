using System.Collections.Immutable;

namespace Tussock.Evidence;

/// <summary>How often remains were read as one class when a camera saw another (or the same).</summary>
/// <param name="Read">Token of the reading; "cannot_tell" when there was none.</param>
/// <param name="Confirmed">Token of the class that the camera saw.</param>
/// <param name="Nests">How many nests.</param>
public sealed record Confusion(string Read, string Confirmed, int Nests);

/// <summary>How well signs predict cameras on this land: each confirmed nest read by what the others taught.</summary>
/// <param name="Nests">Confirmed nests scored.</param>
/// <param name="LogScore">Mean of −log(belief in the class seen); 0 is perfect, smaller is better.</param>
/// <param name="Brier">Mean over nests of Σ(belief − truth)² over classes, in [0, 2]; smaller is better.</param>
/// <param name="ShareRight">Share of nests whose reading was right; "cannot tell" is not right.</param>
/// <param name="ShareRightCommonest">Share that would be right by always naming the commonest class.</param>
/// <param name="CalibrationError">How far the chance of the leading class lies from how often it was right, five even bins; in [0, 1].</param>
/// <param name="Confusions">Readings against cameras.</param>
/// <param name="Bands">Calibration by bands of the leading chance.</param>
public sealed record Scoring(int Nests, double LogScore, double Brier, double ShareRight, double ShareRightCommonest, double CalibrationError, ImmutableArray<Confusion> Confusions, ImmutableArray<CalibrationBand> Bands)
{
    /// <summary>Token of a reading that names nobody.</summary>
    public const string CannotTell = "cannot_tell";

    /// <summary>Scores the readings of confirmed nests, leaving each one out of what it is read by.</summary>
    /// <param name="catalogue">Signs, classes and key.</param>
    /// <param name="nests">Nests, any order; those without a confirmed class, or found after a second visitor, are not scored.</param>
    /// <returns>The scores; a reason with fewer than two nests to score.</returns>
    /// <source>Brier 1950, Monthly Weather Review 78:1–3; logarithmic score: Good 1952, Journal of the Royal Statistical Society B 14:107–114 (from memory, to be confirmed).</source>
    /// <check>published-values</check>
    public static Answer<Scoring> LeaveOneOut(SignCatalogue catalogue, IEnumerable<NestEvidence> nests)
    {
        var answer = LeftOneOut.Of(catalogue, nests, []);
        return answer.HasValue ? Of(catalogue, answer.Value) : new NoAnswer(answer.Why);
    }

    /// <summary>Scores readings that were made without the nest itself.</summary>
    internal static Scoring Of(SignCatalogue catalogue, ImmutableArray<LeftOneOut> read)
    {
        return new Scoring(
            read.Length,
            read.Average(r => -Math.Log(r.Belief.Chances[r.Truth])),
            BrierOf([.. read.Select(r => r.Belief.Chances)], [.. read.Select(r => r.Truth)]),
            read.Average(r => r.Belief.Reading == r.Truth ? 1.0 : 0),
            read.GroupBy(r => r.Truth).Max(g => g.Count()) / (double)read.Length,
            CalibrationErrorOf([.. read.Select(r => r.Belief.Chances.Max())], [.. read.Select(r => r.Belief.Chances.IndexOf(r.Belief.Chances.Max()) == r.Truth)], 5),
            [.. read.GroupBy(r => (Read: r.Belief.Reading ?? catalogue.Culprits.Length, r.Truth)).OrderBy(g => g.Key)
                .Select(g => new Confusion(g.Key.Read == catalogue.Culprits.Length ? CannotTell : catalogue.Culprits[g.Key.Read], catalogue.Culprits[g.Key.Truth], g.Count()))],
            CalibrationBand.Of(read));
    }

    /// <summary>Brier score: mean over cases of the squared distance between the chances and what happened.</summary>
    /// <param name="chances">Chances of each case, one a class.</param>
    /// <param name="truths">Index of the class that happened, one a case.</param>
    /// <remarks>With two classes it is twice the score of a single event.</remarks>
    /// <source>Brier 1950, Monthly Weather Review 78:1–3.</source>
    /// <check>published-values</check>
    public static double BrierOf(IReadOnlyList<ImmutableArray<double>> chances, IReadOnlyList<int> truths)
    {
        var sum = 0.0;
        for (var i = 0; i < truths.Count; i++)
        {
            for (var k = 0; k < chances[i].Length; k++) sum += Math.Pow(chances[i][k] - (k == truths[i] ? 1 : 0), 2);
        }

        return sum / truths.Count;
    }

    /// <summary>Expected calibration error: |mean chance − share that happened| over even bins, weighted by cases.</summary>
    /// <param name="chances">Chance of each event, in [0, 1].</param>
    /// <param name="happened">Whether it happened.</param>
    /// <param name="bins">Number of even bins; a chance on an edge belongs to the lower bin.</param>
    /// <source>Naeini, Cooper &amp; Hauskrecht 2015, AAAI Conference on Artificial Intelligence, 2901–2907.</source>
    /// <check>published-values</check>
    public static double CalibrationErrorOf(IReadOnlyList<double> chances, IReadOnlyList<bool> happened, int bins) =>
        Enumerable.Range(0, chances.Count).GroupBy(i => Math.Max(0, (int)Math.Ceiling(chances[i] * bins) - 1)).OrderBy(g => g.Key)
            .Sum(g => Math.Abs(g.Average(i => chances[i]) - g.Average(i => happened[i] ? 1.0 : 0)) * g.Count() / chances.Count);
}

using System.Collections.Immutable;

namespace Tussock.Evidence;

/// <summary>How far one sign moved the belief in each class.</summary>
/// <param name="Sign">Token of the sign.</param>
/// <param name="Values">Its values as the catalogue spells them.</param>
/// <param name="Bits">Weight of evidence for each class against all others, in bits; positive speaks for it. One bit doubles the odds.</param>
public sealed record SignReason(string Sign, ImmutableArray<string> Values, ImmutableArray<double> Bits)
{
    /// <summary>What it did to the class on the list that leads a belief: "opening of the egg (large end) moved strongly towards skunk (2.1 bits)".</summary>
    /// <param name="belief">The belief with all signs.</param>
    public Phrase InWords(Belief belief)
    {
        ArgumentNullException.ThrowIfNull(belief);
        var leads = belief.Chances.IndexOf(belief.Chances[..^1].Max());
        var sign = SignCatalogue.Standard.Signs.First(s => s.Sign == Sign);
        return Phrase.Of("signs.text.reason", ("sign", sign.Name), ("values", Values.Select(sign.InWords).ToArray()), ("moved", BeliefReasons.InWords(Bits[leads], Phrase.Of("signs.culprit." + belief.Culprits[leads]))), ("bits", Bits[leads]));
    }
}

/// <summary>A sign that was not looked for, and what looking may tell.</summary>
/// <param name="Sign">Token of the sign.</param>
/// <param name="Bits">Expected information in bits, ≥ 0.</param>
public sealed record SignToSeek(string Sign, double Bits);

/// <summary>Why the belief about a nest is what it is, and what to look for next.</summary>
/// <param name="Before">Belief without its remains.</param>
/// <param name="After">Belief with them.</param>
/// <param name="Signs">What each sign did, in the order of the field sheet.</param>
/// <param name="Together">What all signs together did to each class: log2 of the odds after over the odds before.</param>
/// <param name="Next">Signs not read, the most telling first; of equals the first on the field sheet.</param>
public sealed record BeliefReasons(Belief Before, Belief After, ImmutableArray<SignReason> Signs, ImmutableArray<double> Together, ImmutableArray<SignToSeek> Next)
{
    /// <summary>From here on a sign is said to move a belief: odds times 1.25.</summary>
    public const double Least = 0.321928094887362;

    /// <summary>From here on it moves it plainly: odds doubled.</summary>
    public const double Plain = 1;

    /// <summary>From here on it moves it strongly: odds times four.</summary>
    public const double Strong = 2;

    /// <summary>Why is this nest read so, and what would tell more?</summary>
    /// <param name="model">Key and what cameras taught.</param>
    /// <param name="signs">Rows of remains, any order.</param>
    /// <returns>Weights in bits, finite; none without signs.</returns>
    /// <remarks>
    /// A sign's weight for class k: log2 of its likelihood under k over its mean likelihood under the others, weighted by the belief without remains,
    /// after its group has bounded it. One sign alone moves the odds of k by exactly 2^weight. Weights of several signs need not add to <c>Together</c>
    /// class by class, because the others lose rivals among themselves; between any two classes they do. Expected information of a sign: mean over its
    /// values of the divergence of the belief after from the belief now; a sign of a group that was read already is bounded with it and promises less.
    /// </remarks>
    /// <source>Weight of evidence: Good 1985, Bayesian Statistics 2:249–270 (from memory, to be confirmed); expected information: Lindley 1956, Annals of Mathematical Statistics 27:986–1005 (from memory, to be confirmed).</source>
    /// <check>worked-by-hand</check>
    public static BeliefReasons Of(BeliefModel model, IReadOnlyList<SignSeen> signs)
    {
        ArgumentNullException.ThrowIfNull(model);
        var read = model.Read(signs);
        var (before, after) = (model.OfRead([]), model.OfRead(read));
        return new BeliefReasons(
            before,
            after,
            Why(model, signs),
            [.. before.Chances.Select((b, k) => Math.Log2(after.Chances[k] / (1 - after.Chances[k]) * (1 - b) / b))],
            Seek(model, read, after));
    }

    /// <summary>The reasons alone: how far each sign moved the belief in each class.</summary>
    /// <param name="model">Key and what cameras taught.</param>
    /// <param name="signs">Rows of remains, any order.</param>
    /// <source>Weight of evidence: Good 1985, Bayesian Statistics 2:249–270 (from memory, to be confirmed).</source>
    /// <check>worked-by-hand</check>
    public static ImmutableArray<SignReason> Why(BeliefModel model, IReadOnlyList<SignSeen> signs)
    {
        ArgumentNullException.ThrowIfNull(model);
        var (before, all) = (model.OfRead([]), model.Catalogue.Signs);
        return [.. model.Parts(model.Read(signs)).Select(p => new SignReason(all[p.Read.Sign].Sign, [.. p.Read.Values.Select(v => all[p.Read.Sign].Values[v])], Weights(before, p.Log)))];
    }

    /// <summary>A weight in words: "moved strongly towards …"; the sentence takes the class as its argument.</summary>
    /// <param name="bits">Weight in bits.</param>
    /// <param name="culprit">Name of the class.</param>
    public static Phrase InWords(double bits, Phrase culprit) => Phrase.Of("signs.moved_" + Token(bits), ("culprit", culprit));

    /// <summary>The same as a token: strongly_towards, towards, a_little_towards, hardly, a_little_away, away, strongly_away.</summary>
    public static string Token(double bits)
    {
        var size = Math.Abs(bits);
        if (size < Least) return "hardly";
        return (size < Plain ? "a_little_" : size < Strong ? "" : "strongly_") + (bits > 0 ? "towards" : "away");
    }

    private static ImmutableArray<double> Weights(Belief before, double[] log)
    {
        var top = log.Max();
        var likely = log.Select(l => Math.Exp(l - top)).ToArray();
        var all = 0.0;
        for (var k = 0; k < likely.Length; k++) all += before.Chances[k] * likely[k];
        return [.. likely.Select((l, k) => Math.Log2(l * (1 - before.Chances[k]) / (all - before.Chances[k] * l)))];
    }

    private static ImmutableArray<SignToSeek> Seek(BeliefModel model, List<SignRead> read, Belief now)
    {
        var found = new List<SignToSeek>();
        for (var s = 0; s < model.Catalogue.Signs.Length; s++)
        {
            if (model.Catalogue.Signs[s].Kind != SignKind.Choice || read.Exists(r => r.Sign == s)) continue;
            found.Add(new SignToSeek(model.Catalogue.Signs[s].Sign, Expected(model, read, now, s)));
        }

        return [.. found.OrderByDescending(f => f.Bits)];
    }

    private static double Expected(BeliefModel model, List<SignRead> read, Belief now, int sign)
    {
        var bits = 0.0;
        for (var value = 0; value < model.Catalogue.Signs[sign].Values.Length; value++)
        {
            var more = new SignRead(sign, [value]);
            var log = model.LogLikelihood(more);
            var chance = 0.0;
            for (var k = 0; k < log.Length; k++) chance += now.Chances[k] * Math.Exp(log[k]);
            var then = model.OfRead([.. read, more]);
            for (var k = 0; k < log.Length; k++) bits += chance * then.Chances[k] * Math.Log2(then.Chances[k] / now.Chances[k]);
        }

        return Math.Max(0, bits);
    }
}

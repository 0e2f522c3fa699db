using Tussock.Models;
using Tussock.Words;

namespace Tussock.Results;

/// <summary>What a check of fit says: the sentences that text and JSON share.</summary>
public static class FitCheckSentences
{
    /// <summary>A p below this speaks against a model (common practice, no source).</summary>
    private const double Small = 0.05;

    /// <summary>Both tests in words, then what they rest on; nothing where no check was asked for.</summary>
    public static IEnumerable<Phrase> Of(SeasonModel model)
    {
        if (model.FitCheck is not { } check) yield break;
        yield return Test("fit_check.by_line", check.ByLine, "fit_check.lines_differ", "fit_check.lines_agree");
        yield return Test("fit_check.by_risk", check.ByRisk, "fit_check.risk_differs", "fit_check.risk_agrees");
        var (frame, rows) = (model.Model.Design.Nests.Frame, model.Model.Design.Nests.Rows);
        if (rows.Any(r => frame.Nests[r].LostAt is not null)) yield return Phrase.Of("fit_check.cameras", ("losses", check.Losses));
    }

    /// <summary>How many lines stand out, and how many would by chance alone; null where there is no fit.</summary>
    public static Phrase? Lines(FitCheck check)
    {
        if (check.Lines.IsEmpty) return null;
        var all = check.OutlyingLines.Length;
        (string, object) lines = ("lines", check.Lines.Length), chance = ("chance", check.OutlyingByChance), count = ("count", all);
        if (all == 0) return Phrase.Of("fit_check.no_outlying", lines, chance);
        return all <= FitCheck.MostNamed ? Phrase.Of("fit_check.outlying", count, lines, chance) : Phrase.Of("fit_check.outlying_many", count, lines, chance, ("most", FitCheck.MostNamed));
    }

    private static Phrase Test(string key, Answer<GroupedDeviance> found, string against, string agrees)
    {
        if (!found.HasValue) return Phrase.Of(key, ("says", found.Why));
        var (p, error) = (found.Value.P, found.Value.PError);
        var isNear = Math.Abs(p - Small) < 2 * error;
        var meaning = Phrase.Of(isNear ? "fit_check.near" : p < Small ? against : agrees);
        object often = p < 0.01 ? Phrase.Of("fit_check.under_one") : Numbers.Whole((long)Math.Round(100 * p));
        return Phrase.Of(key, ("says", Phrase.Of("fit_check.found", ("p", Numbers.Fixed(p, 3)), ("error", Numbers.Fixed(error, 3)), ("often", often), ("meaning", meaning))));
    }
}

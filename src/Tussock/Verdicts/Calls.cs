using System.Collections.Immutable;

namespace Tussock.Verdicts;

/// <summary>From the chance of reaching a benchmark to a call, with the certainty that few lines need.</summary>
public static class Calls
{
    /// <summary>Fewest lines that are ever called.</summary>
    public const int FewestLines = 4;

    /// <summary>Lines from which the usual certainty holds.</summary>
    public const int UsualLines = 6;

    /// <summary>Certainty asked for with six or more lines.</summary>
    public const double UsualCertainty = 0.85;

    /// <summary>Certainty asked for with four or five lines.</summary>
    public const double FewLinesCertainty = 0.90;

    /// <summary>Chance from which a leaning is shown.</summary>
    public const double LeaningFrom = 0.65;

    /// <summary>Above this a chance is said as "over 99 %", below its counterpart as "under 1 %": a rounded 100 % or 0 % would promise what no sample can.</summary>
    public const double NearlyCertain = 0.99;

    /// <summary>The certainty asked for with so many lines.</summary>
    /// <param name="lines">Lines behind the chance, ≥ 0.</param>
    /// <returns>0.85 for six or more, 0.90 for four or five, null for fewer: never called.</returns>
    /// <source>Thresholds set by simulation for this program; no publication.</source>
    /// <check>reference-seasons</check>
    public static double? CertaintyFor(int lines) => lines switch
    {
        >= UsualLines => UsualCertainty,
        >= FewestLines => FewLinesCertainty,
        _ => null,
    };

    /// <summary>Is the benchmark likely reached, unlikely reached, or neither?</summary>
    /// <param name="chance">Chance in [0, 1] of being at or above the benchmark, or the reason why there is none.</param>
    /// <param name="lines">Lines behind the chance.</param>
    /// <param name="certainty">A certainty in (0.5, 1) that a user asks for instead; null: the usual one. Never calls fewer than four lines.</param>
    /// <returns>Likely from the certainty on, unlikely up to one less it, both ends included; else none with its reason.</returns>
    /// <exception cref="ArgumentOutOfRangeException">A certainty outside (0.5, 1).</exception>
    /// <remarks>
    /// Simulated seasons with a truth 10 points from the benchmark: wrong clear calls at most 4.3 % up to a transect sd of 1; with a certainty
    /// of 0.80 they reach 5.8 % (six lines) and 7.8 % (four lines). Misleads when the lines were not drawn at random.
    /// </remarks>
    /// <source>Thresholds set by simulation for this program; no publication.</source>
    /// <check>reference-seasons</check>
    public static Call Of(Answer<double> chance, int lines, double? certainty = null)
    {
        if (certainty is <= 0.5 or >= 1 or double.NaN) throw new ArgumentOutOfRangeException(nameof(certainty), "A certainty lies above 0.5 and below 1");
        var value = chance.HasValue ? chance.Value : (double?)null;
        if (CertaintyFor(lines) is not { } usual) return new Call(CallKind.None, value, lines, null, Phrase.Of("call.few_lines", ("lines", lines)));
        var asked = certainty ?? usual;
        if (value is not { } p) return new Call(CallKind.None, null, lines, asked, chance.Why) { Notes = Notes(asked, usual, lines) };
        var kind = p >= asked ? CallKind.Likely : 1 - p >= asked ? CallKind.Unlikely : CallKind.None;
        return new Call(kind, p, lines, asked, kind == CallKind.None ? Phrase.Of("call.between", ("certainty", asked)) : null) { Notes = Notes(asked, usual, lines) };
    }

    // 0.80 was simulated; what lies beyond it was not.
    private static ImmutableArray<Phrase> Notes(double asked, double usual, int lines)
    {
        if (asked >= usual) return [];
        var reaches = lines >= UsualLines ? 0.058 : 0.078;
        return [Phrase.Of(asked >= 0.80 ? "call.lowered" : "call.lowered_far", ("asked", asked), ("usual", usual), ("wrong", reaches))];
    }
}

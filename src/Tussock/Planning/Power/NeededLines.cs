using Tussock.Simulation;
using Tussock.Verdicts;

namespace Tussock.Planning.Power;

/// <summary>The smallest number of lines that gives a clear answer with a chance of 0.8.</summary>
/// <param name="Lines">Lines, with the nests a line of the question.</param>
/// <param name="Nests">All nests of these lines.</param>
/// <param name="Chance">The chance of a clear answer with so many lines.</param>
/// <param name="ByFormula">Lines by formula; null when the formula finds none.</param>
public sealed record NeededLines(int Lines, int Nests, double Chance, int? ByFormula)
{
    /// <summary>Most lines that are looked at.</summary>
    public const int Most = 60;

    /// <summary>Numbers of lines that are tried at most: 60, then halving from 4.</summary>
    public const int MostTries = 7;

    /// <summary>Chance asked for.</summary>
    public const double Enough = 0.8;

    /// <summary>How many lines are needed?</summary>
    /// <param name="question">Truth, benchmarks, nests a line, seed.</param>
    /// <param name="seasons">Invented seasons at each number of lines that is tried.</param>
    /// <param name="done">Told after each season, from any thread.</param>
    /// <param name="cancel">Stops between seasons.</param>
    /// <returns>The smallest number from 4 to 60 whose simulated chance is 0.8 or more; a reason when 60 are not enough.</returns>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    /// <remarks>
    /// By halving, which takes the chance to rise with lines: it does, but for chance and the step at six lines, where less certainty is asked for.
    /// The same season numbers have the same first lines whatever their number, so that neighbours are compared on the same luck.
    /// With the truth at the benchmark, or so near that lines hide it, no number would do, and that is said.
    /// </remarks>
    /// <source>Operating characteristics by simulation of the whole trial: common practice, no source.</source>
    /// <check>published-values</check>
    public static Answer<NeededLines> Of(PowerQuestion question, int seasons, Action? done = null, CancellationToken cancel = default)
    {
        ArgumentNullException.ThrowIfNull(question);
        double At(int lines) => CallRates.Of(question, question.Design with { Lines = lines }, seasons, done, cancel).Clear;
        var (low, high) = (Calls.FewestLines - 1, Most);
        var best = At(Most);
        if (best < Enough) return NoAnswer.Because("power.no_number", ("lines", Most), ("chance", best));
        while (high - low > 1)
        {
            var middle = (low + high) / 2;
            var chance = At(middle);
            if (chance >= Enough) (high, best) = (middle, chance);
            else low = middle;
        }

        return new NeededLines(high, high * question.Design.Nests, best, LinesByFormula(question));
    }

    /// <summary>Smallest number of lines by formula.</summary>
    /// <param name="question">Truth, benchmarks, nests a line.</param>
    /// <returns>From 4 to 60; null when 60 are not enough.</returns>
    internal static int? LinesByFormula(PowerQuestion question)
    {
        for (var lines = Calls.FewestLines; lines <= Most; lines++)
        {
            if (PowerFormula.Of(question, question.Design with { Lines = lines }).Clear(question.HasDensity) >= Enough) return lines;
        }

        return null;
    }

    /// <summary>Designs of about as many nests: half the lines with twice the nests, the design itself, twice the lines with half the nests.</summary>
    /// <returns>The designs that have at least one line and one nest, few lines first.</returns>
    public static IReadOnlyList<SeasonDesign> SameNests(SeasonDesign design)
    {
        ArgumentNullException.ThrowIfNull(design);
        var total = design.Lines * design.Nests;
        return [.. new[] { 0.5, 1, 1.5, 2 }.Select(f => (int)Math.Round(design.Lines * f)).Where(m => m >= 1 && m <= Math.Min(total, PowerQuestion.MostLines)).Distinct()
            .Select(m => design with { Lines = m, Nests = Math.Clamp((int)Math.Round((double)total / m), 1, PowerQuestion.MostNests) })];
    }
}

using Tussock.Fates;
using Tussock.Numerics;
using Tussock.Survival;

namespace Tussock.Simulation;

/// <summary>How large an invented trial over years is.</summary>
/// <param name="Years">Years, ≥ 2.</param>
/// <param name="Pastures">Pastures, ≥ 2; the first ones have the action.</param>
/// <param name="Lines">Lines a pasture and year, ≥ 1.</param>
/// <param name="Nests">Nests a line and year, ≥ 1.</param>
/// <param name="Treated">Pastures with the action.</param>
/// <param name="From">First year with the action, counted from 0.</param>
/// <param name="AreLasting">Whether the same lines are walked in every year.</param>
public sealed record YearsDesign(int Years, int Pastures, int Lines, int Nests, int Treated, int From, bool AreLasting);

/// <summary>What is true over the years: all on the logarithm of the hazard.</summary>
/// <param name="Survival">Survival to the end of the trial on a line like most.</param>
/// <param name="Effect">What the action adds to the log hazard.</param>
/// <param name="YearSd">Standard deviation of years, which all pastures share.</param>
/// <param name="PastureSd">Of pastures.</param>
/// <param name="LineSd">Of lines.</param>
/// <param name="PastureYearSd">Of the luck of a pasture in a year.</param>
/// <param name="LineYearSd">Of the luck of a line in a year.</param>
public sealed record YearsTruth(double Survival, double Effect, double YearSd, double PastureSd, double LineSd, double PastureYearSd = 0, double LineYearSd = 0);

/// <summary>Nests of several years on pastures of which some have an action, drawn with known truth.</summary>
/// <param name="Nests">One row a nest, by line; the line of a pasture is the same in every year where lines last.</param>
/// <param name="Year">Year of each row.</param>
/// <param name="Pasture">Pasture of each row.</param>
/// <param name="Difference">How much the action raised survival to the end of the trial in the pastures that have it, in the years that they have it, averaged over all lines that could have been walked.</param>
public sealed record SimulatedYears(NestSpans Nests, int[] Year, int[] Pasture, double Difference)
{
    private static readonly Trial Days = Trial.Usual;
    private static readonly GaussHermite Rule = GaussHermite.Of(30);

    /// <summary>Draws them.</summary>
    public static SimulatedYears Draw(YearsDesign design, YearsTruth truth, Seeded chance)
    {
        var years = Luck(design.Years, truth.YearSd, chance);
        var pastures = Luck(design.Pastures, truth.PastureSd, chance);
        var both = Luck(design.Years * design.Pastures, truth.PastureYearSd, chance);
        var level = Math.Log(-Math.Log(truth.Survival));
        var rows = new List<(int Line, int Pasture, int Year, double Intact, double Lost)>();
        for (var pasture = 0; pasture < design.Pastures; pasture++)
        {
            for (var line = 0; line < design.Lines; line++)
            {
                var luck = truth.LineSd * chance.NextNormal();
                for (var year = 0; year < design.Years; year++)
                {
                    if (year > 0 && !design.AreLasting) luck = truth.LineSd * chance.NextNormal();
                    var eta = level + years[year] + pastures[pasture] + both[(pasture * design.Years) + year] + luck + (truth.LineYearSd * chance.NextNormal()) + (pasture < design.Treated && year >= design.From ? truth.Effect : 0);
                    var number = (((pasture * design.Lines) + line) * design.Years) + (design.AreLasting ? 0 : year);
                    for (var nest = 0; nest < design.Nests; nest++) rows.Add(Visited(number, pasture, year, Math.Exp(eta), chance));
                }
            }
        }

        double sum = 0, cells = 0;
        for (var pasture = 0; pasture < design.Treated; pasture++)
            for (var year = design.From; year < design.Years; year++, cells++)
            {
                var eta = level + years[year] + pastures[pasture] + both[(pasture * design.Years) + year];
                var sd = Math.Sqrt((truth.LineSd * truth.LineSd) + (truth.LineYearSd * truth.LineYearSd));
                sum += Average(eta + truth.Effect, sd) - Average(eta, sd);
            }

        return new SimulatedYears(Spans(rows), [.. rows.Select(r => r.Year)], [.. rows.Select(r => r.Pasture)], cells == 0 ? 0 : sum / cells);
    }

    private static double[] Luck(int count, double sd, Seeded chance)
    {
        var luck = new double[count];
        for (var i = 0; i < count; i++) luck[i] = sd * chance.NextNormal();
        return luck;
    }

    private static double Average(double eta, double sd)
    {
        var sum = 0.0;
        for (var k = 0; k < Rule.Nodes.Length; k++) sum += Rule.Weights[k] * Math.Exp(-Math.Exp(eta + (sd * Rule.Nodes[k])));
        return sum;
    }

    private static (int Line, int Pasture, int Year, double Intact, double Lost) Visited(int line, int pasture, int year, double hazard, Seeded chance)
    {
        var patience = -Math.Log(1 - chance.NextUniform()) / hazard;
        var (intact, lost) = patience < 0.5 ? (0, Days.FirstCheck) : patience < 1 ? (Days.FirstCheck, Days.Days) : (Days.Days, double.PositiveInfinity);
        return (line, pasture, year, intact, lost);
    }

    private static NestSpans Spans(List<(int Line, int Pasture, int Year, double Intact, double Lost)> rows) => new()
    {
        LastIntact = [.. rows.Select(r => r.Intact)],
        FirstLost = [.. rows.Select(r => r.Lost)],
        LostAt = [.. rows.Select(_ => double.NaN)],
        Line = [.. rows.Select(r => r.Line)],
        Transect = [.. rows.Select(r => r.Line)],
        Nest = [.. rows.Select((_, i) => i + 1)],
        Cover = new int[rows.Count],
        Pasture = [.. rows.Select(r => r.Pasture)],
        Cause = [.. rows.Select(r => double.IsPositiveInfinity(r.Lost) ? Cause.None : Cause.Depredated)],
        Day14 = [.. rows.Select(r => FateRule.ByVisits(r.Intact, r.Lost, Days.FirstCheck, Days.Window))],
        Day28 = [.. rows.Select(r => FateRule.ByVisits(r.Intact, r.Lost, Days.Days, Days.Window))],
        LineNames = [.. Enumerable.Range(0, rows.Max(r => r.Line) + 1).Select(l => Words.Numbers.Whole(l))],
        CoverNames = ["grass"],
    };
}

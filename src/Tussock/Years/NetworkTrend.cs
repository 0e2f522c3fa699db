using MathNet.Numerics.LinearAlgebra;
using MathNet.Numerics.Optimization;
using Tussock.Numerics;

namespace Tussock.Years;

/// <summary>A trend over years that several properties share, with properties, years, and each property's years varying truly.</summary>
/// <param name="Properties">Properties that enter.</param>
/// <param name="Years">Years that enter.</param>
/// <param name="SlopeAYear">Change a year on the scale of the estimates, with limits.</param>
/// <param name="PropertySd">Standard deviation of properties.</param>
/// <param name="YearSd">Standard deviation of years that all properties share, around the trend.</param>
/// <param name="OwnYearSd">Standard deviation of a property's own year.</param>
/// <param name="Level">Estimate in the middle of the years.</param>
/// <param name="ChanceRising">Chance that the trend is upward, in (0, 1).</param>
/// <remarks>May be shared between threads.</remarks>
public sealed record NetworkTrend(int Properties, int Years, Estimate SlopeAYear, double PropertySd, double YearSd, double OwnYearSd, double Level, double ChanceRising)
{
    private const int MostSteps = 4000;

    /// <summary>What do the years of several properties say of a trend?</summary>
    /// <param name="rows">Property and year as numbers from 0 (any calendar year will do for the second), estimate, and its error variance &gt; 0.</param>
    /// <param name="level">Confidence level in (0, 1).</param>
    /// <returns>The trend; a reason with fewer than three years.</returns>
    /// <remarks>
    /// y = a + b·year + u(property) + w(year) + z(property in a year) + e; variances by restricted maximum likelihood. A year is one draw of weather for all
    /// properties, so the slope has t on (years − 2) degrees of freedom, however many properties there are. Cost: rows × years a step, some hundred steps.
    /// </remarks>
    /// <source>Linear mixed model with known error variances by restricted maximum likelihood: Patterson &amp; Thompson 1971, Biometrika 58, 545–554 (from memory, to be confirmed); degrees of freedom: common practice, no source.</source>
    /// <check>published-values</check>
    public static Answer<NetworkTrend> Of(IReadOnlyList<(int Property, int Year, double Value, double Variance)> rows, double level = 0.95)
    {
        ArgumentNullException.ThrowIfNull(rows);
        var years = rows.Select(r => r.Year).Distinct().Order().ToArray();
        if (years.Length < YearTrend.Fewest) return NoAnswer.Because("years.few_years", ("years", years.Length), ("fewest", YearTrend.Fewest));
        var model = new CrossedModel(rows, years);
        var start = Vector<double>.Build.DenseOfArray([model.HasProperties ? 0.4 : 0, 0.3, model.HasProperties ? 0.3 : 0]);
        Vector<double> end;
        try
        {
            end = NelderMeadSimplex.Minimum(ObjectiveFunction.Value(t => -model.At(Variances(t, model)).LogLikelihood), start, 1e-9, MostSteps).MinimizingPoint;
        }
        catch (MathNet.Numerics.Optimization.MaximumIterationsException)
        {
            // A likelihood so flat that the search does not settle has no maximum to build limits on.
            return NoAnswer.Because("years.no_maximum");
        }

        var (property, year, own) = Variances(end, model);
        var at = model.At((property, year, own));
        var half = Tails.StudentQuantile((1 + level) / 2, years.Length - 2) * at.SlopeSe;
        var slope = new Estimate { Value = at.Slope, Low = at.Slope - half, High = at.Slope + half, Se = at.SlopeSe, Level = level, Method = "mixed model with properties and years, restricted maximum likelihood, t(years - 2)" };
        return new NetworkTrend(model.Properties, years.Length, slope, Math.Sqrt(property), Math.Sqrt(year), Math.Sqrt(own), at.Intercept, Tails.StudentBelow(at.Slope / at.SlopeSe, years.Length - 2));
    }

    /// <summary>With one property what it has to itself can't be told from what the years do: all of it is the years'.</summary>
    private static (double Property, double Year, double Own) Variances(Vector<double> t, CrossedModel model) => model.HasProperties ? (t[0] * t[0], t[1] * t[1], t[2] * t[2]) : (0, t[1] * t[1], 0);
}

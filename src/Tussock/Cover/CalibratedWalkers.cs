namespace Tussock.Cover;

/// <summary>One walk of the measured course by one walker.</summary>
/// <param name="Walker">Who walked.</param>
/// <param name="StepM">Metres a step on this walk, &gt; 0.</param>
/// <param name="SpanM">Arm span measured with it, metres; null when it was not.</param>
public sealed record CourseWalk(string Walker, double StepM, double? SpanM = null);

/// <summary>How uncertain the walkers' steps and arm spans make a density: an error that acts on all lines of a walker at once and that no comparison of lines can see.</summary>
public static class CalibratedWalkers
{
    /// <summary>The squared relative error that walkers add to a density.</summary>
    /// <param name="areas">Area walked by each walker, m²; area with no walker on record under the empty name.</param>
    /// <param name="walks">Walks of the measured course, any order.</param>
    /// <returns>Σ w² (cv_step² + cv_span²), w the walker's share of the area; null when no walker of these areas has two walks.</returns>
    /// <remarks>A walker with fewer than two walks adds nothing, which flatters; so does an arm span measured once.</remarks>
    /// <source>Common practice, no source: first-order propagation of independent relative errors.</source>
    /// <check>worked-by-hand</check>
    public static double? SquaredError(IReadOnlyDictionary<string, double> areas, IReadOnlyCollection<CourseWalk> walks)
    {
        var total = areas.Values.Sum();
        double? sum = null;
        foreach (var (walker, area) in areas.OrderBy(a => a.Key, StringComparer.Ordinal))
        {
            var own = walks.Where(w => w.Walker == walker).ToArray();
            if (own.Length < 2 || total <= 0) continue;
            var spread = SquaredVariation([.. own.Select(w => w.StepM)]) + SquaredVariation([.. own.Select(w => w.SpanM).OfType<double>()]);
            sum = (sum ?? 0) + area / total * (area / total) * spread;
        }

        return sum;
    }

    private static double SquaredVariation(double[] values)
    {
        if (values.Length < 2) return 0;
        Array.Sort(values);
        var mean = values.Average();
        return values.Sum(v => (v - mean) * (v - mean)) / (values.Length - 1) / (mean * mean);
    }
}

namespace Tussock.Wayfinding;

/// <summary>Where the length of a step comes from.</summary>
public enum StepOrigin
{
    /// <summary>Walks of the measured course by this person.</summary>
    Measured,

    /// <summary>The transect's own step.</summary>
    Transect,

    /// <summary>Nobody measured anything: the usual step.</summary>
    Assumed,
}

/// <summary>The length of a person's step.</summary>
/// <param name="Metres">Mean in metres, &gt; 0.</param>
/// <param name="SdM">Standard deviation between walks of the course, metres; null below two walks.</param>
/// <param name="Walks">Walks of the course that it rests on.</param>
/// <param name="Origin">Where it comes from.</param>
/// <remarks>Equal when all are. May be shared between threads.</remarks>
public sealed record StepLength(double Metres, double? SdM, int Walks, StepOrigin Origin)
{
    /// <summary>The usual step in metres where nothing was measured.</summary>
    public const double AssumedM = 0.75;

    /// <summary>Spread of a step that was not measured twice, as a share of its length.</summary>
    public const double AssumedSpread = 0.08;

    /// <summary>Mean and spread of the walks of one person.</summary>
    /// <param name="walks">Length of the course in metres and steps it took; walks without both are passed over.</param>
    /// <returns>Mean of the walks' step lengths and its standard deviation; null without a walk.</returns>
    /// <source>Common practice, no source: mean and sample standard deviation of course ÷ steps; 8 % where the spread is unknown.</source>
    /// <check>published-values</check>
    public static StepLength? Measured(IEnumerable<(double? CourseM, double? Steps)> walks)
    {
        var lengths = walks.Where(w => w is { CourseM: > 0, Steps: > 0 }).Select(w => w.CourseM!.Value / w.Steps!.Value).ToArray();
        if (lengths.Length == 0) return null;
        var mean = lengths.Average();
        double? sd = lengths.Length < 2 ? null : Math.Sqrt(lengths.Sum(l => (l - mean) * (l - mean)) / (lengths.Length - 1));
        return new(mean, sd, lengths.Length, StepOrigin.Measured);
    }
}

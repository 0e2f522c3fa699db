namespace Tussock.Models;

/// <summary>Days of a nest on which its effects stay as they are.</summary>
/// <param name="X">Effects, one a column of the model.</param>
/// <param name="Days">Days, &gt; 0.</param>
/// <param name="Offset">Added to the linear predictor.</param>
public readonly record struct PatternDays(double[] X, double Days, double Offset = 0)
{
    /// <summary>The first days of a course; its last piece goes on as long as needed.</summary>
    /// <param name="course">Pieces in order, at least one.</param>
    /// <param name="days">Days, ≥ 0.</param>
    /// <returns>Pieces that add up to the days; none for 0 days.</returns>
    public static IReadOnlyList<PatternDays> Until(IReadOnlyList<PatternDays> course, double days)
    {
        var pieces = new List<PatternDays>();
        var left = days;
        for (var i = 0; i < course.Count && left > 0; i++)
        {
            var length = i + 1 < course.Count ? Math.Min(course[i].Days, left) : left;
            pieces.Add(course[i] with { Days = length });
            left -= length;
        }

        return pieces;
    }
}

namespace Tussock.Verdicts;

/// <summary>What a verdict is about.</summary>
public enum JudgedBy
{
    /// <summary>Each pasture for itself.</summary>
    Pasture,

    /// <summary>The property as a whole.</summary>
    Property,
}

/// <summary>Whether the pastures of a property are judged one by one or together.</summary>
public static class Judging
{
    /// <summary>The season's choice, or the default.</summary>
    /// <param name="chosen">What the season says (<c>season.judge</c>); null: not said.</param>
    /// <param name="linesByPasture">Lines walked in each pasture of the property, those without lines included.</param>
    /// <returns>The choice if there is one; else the property when more than half of the pastures with lines have fewer than four, or none has any.</returns>
    public static JudgedBy Of(JudgedBy? chosen, IEnumerable<int> linesByPasture)
    {
        if (chosen is { } said) return said;
        var walked = linesByPasture.Where(n => n > 0).ToArray();
        var few = walked.Count(n => n < Calls.FewestLines);
        return walked.Length == 0 || 2 * few > walked.Length ? JudgedBy.Property : JudgedBy.Pasture;
    }
}

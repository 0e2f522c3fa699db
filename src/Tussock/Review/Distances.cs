namespace Tussock.Review;

/// <summary>Distances as people say them.</summary>
internal static class Distances
{
    /// <summary>"120 m", "3 km".</summary>
    internal static Phrase Said(double metres) => metres < 1000 ? Phrase.Of("review.metres", ("n", Math.Round(metres))) : Phrase.Of("review.kilometres", ("n", Math.Round(metres / 1000) * 1000));
}

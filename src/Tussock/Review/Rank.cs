namespace Tussock.Review;

/// <summary>Severity of a finding and its weight among findings of that severity.</summary>
/// <param name="Severity">How bad it is.</param>
/// <param name="Weight">Greater is more urgent.</param>
internal readonly record struct Rank(Severity Severity, double Weight)
{
    public static implicit operator Rank(Severity severity) => new(severity, 0);
}

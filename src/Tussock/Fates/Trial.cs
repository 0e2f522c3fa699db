namespace Tussock.Fates;

/// <summary>The days of a season that fates and estimators depend on.</summary>
/// <param name="FirstCheck">First planned check day, c1 (14).</param>
/// <param name="Days">Length of the trial, D (28).</param>
/// <param name="Window">Window w around a day in which a visit may still tell the fate at that day (3).</param>
public readonly record struct Trial(double FirstCheck, double Days, double Window)
{
    /// <summary>The usual trial: checks on days 14 and 28, window 3.</summary>
    public static Trial Usual => new(14, 28, 3);
}

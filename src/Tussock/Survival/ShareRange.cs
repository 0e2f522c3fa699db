namespace Tussock.Survival;

/// <summary>What every interval of a share asks of its caller.</summary>
internal static class ShareRange
{
    /// <summary>Refuses counts and levels outside their range.</summary>
    public static void Require(int k, int n, double level)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(n, 1);
        ArgumentOutOfRangeException.ThrowIfNegative(k);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(k, n);
        RequireLevel(level);
    }

    /// <summary>Refuses a level outside (0, 1).</summary>
    public static void RequireLevel(double level)
    {
        if (!(level is > 0 and < 1)) throw new ArgumentOutOfRangeException(nameof(level), "A level lies between 0 and 1");
    }
}

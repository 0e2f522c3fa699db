namespace Tussock.Survival;

/// <summary>The day at which a share of nests is counted.</summary>
public enum TrialDay
{
    /// <summary>The first planned check (day 14).</summary>
    FirstCheck,

    /// <summary>The end of the trial (day 28).</summary>
    End,
}

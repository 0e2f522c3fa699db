namespace Tussock.Models;

/// <summary>How effects act on the daily hazard.</summary>
public enum Link
{
    /// <summary>logit of daily survival = Xβ: a positive effect is better survival. h = log(1 + e^(−η)).</summary>
    DailyLogit,

    /// <summary>log of the hazard a day = Xβ: a positive effect is more loss. h = e^η.</summary>
    LogHazard,
}

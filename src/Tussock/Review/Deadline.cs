using Tussock.Records;

namespace Tussock.Review;

/// <summary>The days in which a check of one nest counts.</summary>
/// <param name="From">First date that counts.</param>
/// <param name="Until">Last date that counts.</param>
/// <param name="UntilDay">Last day since set-out that counts.</param>
/// <param name="Today">Today, when known.</param>
internal readonly record struct Deadline(DateOnly From, DateOnly Until, double UntilDay, DateOnly? Today)
{
    /// <summary>The check has not come yet.</summary>
    internal bool IsAhead => Today < From;

    /// <summary>It is known that the check can't be made any more.</summary>
    internal bool IsPast => Today > Until;

    /// <summary>Missing while it can still be had, late afterwards.</summary>
    internal Severity Severity => IsPast ? Severity.Late : Severity.Missing;

    /// <summary>What can still be done.</summary>
    internal Phrase Then => Phrase.Of(IsPast ? "review.too_late" : "review.counts_until", ("date", Until), ("day", UntilDay));

    /// <summary>The days of the check on <paramref name="day"/> of a nest that was set.</summary>
    internal static Deadline Of(Inspection on, Nest nest, double day)
    {
        var set = nest.SetOn ?? throw new ArgumentException("A nest without a date of set-out has no checks", nameof(nest));
        return Of(set, day, on.Window, on.Today);
    }

    /// <summary>The days of the check on <paramref name="day"/> of nests set out on one date.</summary>
    internal static Deadline Of(DateOnly set, double day, double window, DateOnly? today) =>
        new(DateSteps.Moved(set, Math.Ceiling(day - window)), DateSteps.Moved(set, Math.Floor(day + window)), day + window, today);
}

using Tussock.Fates;
using Tussock.Survival;

namespace Tussock.Results;

/// <summary>Daily survival of a group, with what it would mean over the whole trial.</summary>
/// <param name="Group">The group.</param>
/// <param name="IfEven">Survival to the end of the trial if loss were even over its days; feeds nothing.</param>
public sealed record DailyRow(ReportGroup Group, Estimate IfEven)
{
    /// <summary>A row for each group, in their order.</summary>
    public static IEnumerable<DailyRow> Of(IEnumerable<ReportGroup> groups, Trial trial) => groups.Select(g => new DailyRow(g, DailySurvival.IfEvenOver(g.Group.DailySurvival, trial.Days)));
}

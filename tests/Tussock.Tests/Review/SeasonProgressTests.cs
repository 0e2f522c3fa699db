using Tussock.Review;
using Xunit;

namespace Tussock.Tests.Review;

public sealed class SeasonProgressTests
{
    private static readonly DateOnly Set = new(2024, 5, 6);

    [Fact]
    public void A_season_that_was_checked_has_nothing_due()
    {
        var progress = SeasonProgress.Of(new SmallSeason().Read(), Set.AddDays(14));
        Assert.Equal((0, 8, 8, 8), progress.Pastures.Select(p => (p.Planned, p.Set, p.First, p.Last)).Single());
        Assert.Empty(progress.Due);
    }

    [Fact]
    public void A_nest_nobody_looked_at_is_due_from_a_week_before_its_days_to_the_last_of_them()
    {
        // Its visit of day 14 was on day 9: too early to count for the first check.
        var season = new SmallSeason().With("visits.csv", 2, "visited_on", "2024-05-15").Read();
        Assert.Equal(7, SeasonProgress.Of(season, Set).Pastures.Single().First);
        Assert.Empty(SeasonProgress.Of(season, Set.AddDays(3)).Due);
        foreach (var day in new[] { 4, 11, 17 })
        {
            var due = Assert.Single(SeasonProgress.Of(season, Set.AddDays(day)).Due);
            Assert.Equal(("T1", 14.0, Set.AddDays(14), Set.AddDays(11), Set.AddDays(17), 1), (due.Transect.Name, due.Day, due.On, due.From, due.Until, due.Open));
        }

        Assert.Empty(SeasonProgress.Of(season, Set.AddDays(18)).Due);
    }

    [Fact]
    public void A_year_mistyped_beyond_the_calendar_stops_nothing()
    {
        var season = new SmallSeason().With("transects.csv", 2, "set_on", "9999-12-25").Read();
        Assert.Equal(DateOnly.MaxValue, Assert.Single(SeasonProgress.Of(season, new DateOnly(9999, 12, 30)).Due, d => d.Day == 14).Until);
        Assert.Equal(DateOnly.MaxValue, Tussock.Fieldwork.CheckWindow.Of(new DateOnly(9999, 12, 25), 14, 3).To);
    }
}

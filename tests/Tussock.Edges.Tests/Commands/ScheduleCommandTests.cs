using Xunit;

namespace Tussock.Edges.Tests.Commands;

/// <summary>The command that says who works where on which day.</summary>
public sealed class ScheduleCommandTests : IDisposable
{
    private readonly ScratchFolder scratch = new();

    public void Dispose() => scratch.Dispose();

    private string Season(string setOn = "")
    {
        var made = new MadeFolder();
        for (var line = 1; line <= 3; line++) made.Line("S" + line, ["", "", "", "", "", ""], clumps: null, setOn: setOn);
        return made.Write(scratch.At("season"));
    }

    [Fact]
    public void Days_are_told_and_a_calendar_moves_its_events_when_rain_comes()
    {
        var (season, calendar) = (Season("2027-05-10"), scratch.At("work.ics"));

        var dry = Typed.Done("schedule", season, "--from", "2027-05-20", "--calendar", calendar, "--at", Typed.At);
        Assert.Contains("24 May 2027, crew 1", dry.Out, StringComparison.Ordinal);
        var before = File.ReadAllLines(calendar);

        var wet = Typed.Done("schedule", season, "--from", "2027-05-20", "--closed", "2027-05-23..2027-05-25", "--calendar", calendar, "--overwrite", "--at", Typed.At);
        Assert.Contains("2 days early", wet.Out, StringComparison.Ordinal);
        var after = File.ReadAllLines(calendar);
        Assert.Equal(before.Where(l => l.StartsWith("UID", StringComparison.Ordinal)), after.Where(l => l.StartsWith("UID", StringComparison.Ordinal)));
        Assert.NotEqual(before, after);
        Assert.All(after, l => Assert.True(l.Length <= 75, l));
    }

    [Fact]
    public void What_finds_no_day_ends_with_1_and_why()
    {
        var run = Typed.Run("schedule", Season("2027-05-10"), "--from", "2027-05-20", "--closed", "2027-05-20..2027-05-28");

        Assert.Equal(1, run.Exit);
        Assert.Contains("S1, check of day 14", run.Err, StringComparison.Ordinal);
        Assert.Contains("day 28", run.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void A_planned_season_is_set_out_line_after_line()
    {
        var run = Typed.Done("schedule", Season(), "--from", "2027-05-10", "--crews", "2", "--hours", "07:00-12:00", "--language", "es");

        Assert.Contains("colocar S1, South", run.Out, StringComparison.Ordinal);
        Assert.Contains("cuadrilla 2", run.Out, StringComparison.Ordinal);
        Assert.Contains("07:00–", run.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("schedule demo", "--from")]
    [InlineData("schedule demo --from tomorrow", "2027-05-10")]
    [InlineData("schedule demo --from 2027-05-10 --hours 12:00-07:00", "06:30-11:30")]
    [InlineData("schedule demo --from 2027-05-10 --closed rain", "2027-05-24..2027-05-30")]
    [InlineData("schedule demo --from 2027-05-10 --closed 2027-05-30..2027-05-24", "2027-05-24..2027-05-30")]
    [InlineData("schedule demo --from 2027-05-10 --crews 1 --new-crews 2", "--new-crews")]
    [InlineData("schedule demo --from 2027-05-10 --crews 99", "--crews")]
    [InlineData("schedule demo --from 2027-05-10 --check-minutes 0", "600")]
    public void Wrong_usage_is_told(string typed, string said)
    {
        var run = Typed.Run(typed.Split(' '));

        Assert.Equal(2, run.Exit);
        Assert.Contains(said, run.Err, StringComparison.Ordinal);
    }
}

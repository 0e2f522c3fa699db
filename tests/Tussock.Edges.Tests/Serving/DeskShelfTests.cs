// Every call here takes milliseconds: a run that is stopped has not long to wait.
#pragma warning disable xUnit1051
using System.Text.Json;
using Tussock.Journal;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>What the desk shows while records change: tables at once, the season and its answer behind them.</summary>
public sealed class DeskShelfTests : IAsyncDisposable
{
    private static readonly DateTimeOffset Noon = new(2024, 7, 1, 12, 0, 0, TimeSpan.Zero);
    private readonly RunningDesk desk = new();

    public ValueTask DisposeAsync() => desk.DisposeAsync();

    [Fact]
    public async Task A_table_shows_what_somebody_else_has_just_written_and_the_answer_follows()
    {
        await PageAsync("/");
        for (var n = 0; n < 5; n++)
        {
            Write("note", "written " + n);
            Assert.Contains("written " + n, await PageAsync("/records/visits?text=written"), StringComparison.Ordinal);
        }

        await ReadyAsync();
    }

    [Fact]
    public async Task A_season_that_cannot_be_read_any_more_says_so_and_comes_back_when_it_can()
    {
        await PageAsync("/");
        Write("finding", "gone");
        await ReadyAsync();
        Assert.Contains("“gone”", System.Net.WebUtility.HtmlDecode(await PageAsync("/")), StringComparison.Ordinal);
        Write("finding", "intact");
        await ReadyAsync();
        Assert.DoesNotContain("“gone”", System.Net.WebUtility.HtmlDecode(await PageAsync("/")), StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_answer_that_a_fault_of_the_program_keeps_away_is_not_waited_for()
    {
        await using var broken = new RunningDesk(new BrokenClock());
        for (var n = 0; n < 600 && !(await StateAsync(broken)).GetProperty("broken").GetBoolean(); n++) await Task.Delay(50);
        var state = await StateAsync(broken);
        Assert.Equal(state.GetProperty("position").GetInt64(), state.GetProperty("answer").GetInt64());
        var page = System.Net.WebUtility.HtmlDecode(await broken.Client.GetStringAsync(new Uri("/", UriKind.Relative)));
        Assert.Contains("a fault of the program", page, StringComparison.Ordinal);
        Assert.DoesNotContain("being computed", page, StringComparison.Ordinal);
        Assert.NotEmpty(broken.Faults);
    }

    [Theory]
    [InlineData("/worklist?severity=note&page=1")]
    [InlineData("/worklist?severity=note&page=99999999")]
    [InlineData("/worklist?severity=conflicts&page=-1")]
    [InlineData("/worklist?severity=nonsense&page=x")]
    public async Task The_worklist_has_a_page_for_whatever_is_asked(string address) => Assert.Contains("<h1>Worklist</h1>", await PageAsync(address), StringComparison.Ordinal);

    private static async Task<JsonElement> StateAsync(RunningDesk desk)
    {
        using var state = JsonDocument.Parse(await desk.Client.GetStringAsync(new Uri("/desk/state", UriKind.Relative)));
        return state.RootElement.Clone();
    }

    private Task<string> PageAsync(string address) => desk.Client.GetStringAsync(new Uri(address, UriKind.Relative));

    private void Write(string field, string value)
    {
        var visit = desk.File.States("small").Records.First(r => r.Kind == "visits");
        desk.File.Write(visit.Season, [new Draft("visits", visit.Id, ChangeOp.Set, [new FieldChange(field, value, visit.Field(field)?.HeadIds ?? [])])], "crew 2", Noon);
    }

    private async Task ReadyAsync()
    {
        for (var n = 0; n < 600; n++)
        {
            using var state = JsonDocument.Parse(await PageAsync("/desk/state"));
            var (position, answer) = (state.RootElement.GetProperty("position").GetInt64(), state.RootElement.GetProperty("answer").GetInt64());
            Assert.True(answer <= position);
            if (position == desk.File.Last.Position && answer == position) return;
            await Task.Delay(50);
        }

        Assert.Fail("the answer never came");
    }

    /// <summary>Breaks where the answer is computed, and nowhere else.</summary>
    private sealed class BrokenClock : TimeProvider
    {
        public override DateTimeOffset GetUtcNow() =>
            Environment.StackTrace.Contains("DeskShelf.Compute", StringComparison.Ordinal) ? throw new InvalidOperationException("broken on purpose") : base.GetUtcNow();
    }
}

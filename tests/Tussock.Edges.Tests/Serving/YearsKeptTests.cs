using System.Collections.Immutable;
using Tussock.App.Serving.Desk;
using Tussock.Desk;
using Tussock.Edges.Tests.Commands;
using Tussock.Journal;
using Tussock.Records;
using Tussock.Store;
using Tussock.Years;
using Xunit;

namespace Tussock.Edges.Tests.Serving;

/// <summary>What a desk keeps of the years beside the data: the same numbers back, nothing of a season that has moved, nothing from a file that is broken or of another file.</summary>
public sealed class YearsKeptTests : IDisposable
{
    private readonly ScratchFolder scratch = new();

    public YearsKeptTests() => Typed.Done("import", Data, Demo());

    private string Data => scratch.At("season.db");

    public void Dispose() => scratch.Dispose();

    private string Demo()
    {
        Typed.Done("demo", scratch.At("demo"));
        return scratch.At("demo");
    }

    private (DataFile File, Guid Id, YearShown Year) Known()
    {
        var file = DataFile.OpenToWrite(Data);
        var entry = file.Seasons().Single();
        return (file, entry.Id, new YearShown(entry.Name, entry.Year, PastureYears.Of(SeasonReading.Read(file.Tables(entry.Name, TestContext.Current.CancellationToken), out _)!), false));
    }

    [Fact]
    public void What_was_kept_comes_back_number_by_number()
    {
        var (file, id, year) = Known();
        new YearsKept(file).Write(file.Last, ImmutableDictionary<Guid, YearShown>.Empty.Add(id, year));
        var back = new YearsKept(file).Read()[id];
        Assert.Equal((year.Name, year.Year, year.Lands.Length), (back.Name, back.Year, back.Lands.Length));
        foreach (var (before, after) in year.Lands.Zip(back.Lands))
        {
            Assert.Equal(before.Lines, after.Lines);
            Assert.Equal((before.Property, before.Pasture, before.Counts, before.PerAcre, before.CoverRatio, before.WalkersError), (after.Property, after.Pasture, after.Counts, after.PerAcre, after.CoverRatio, after.WalkersError));
            Assert.Equal((before.Survival.Value, before.Survival.Low, before.Survival.High), (after.Survival.Value, after.Survival.Low, after.Survival.High));
            Assert.Equal((before.Conduct.SetOn, before.Conduct.EggKind, before.Label), (after.Conduct.SetOn, after.Conduct.EggKind, after.Label));
            Assert.Equal(before.Losses, after.Losses);
            Assert.Equal(before.Conduct.Crew, after.Conduct.Crew);
        }
    }

    [Fact]
    public void A_season_that_has_moved_is_not_taken_from_it()
    {
        var (file, id, year) = Known();
        new YearsKept(file).Write(file.Last, ImmutableDictionary<Guid, YearShown>.Empty.Add(id, year));
        var visits = file.Tables(year.Name, TestContext.Current.CancellationToken).Table(RecordKind.Visits)!;
        file.Write(id, [new Draft(visits.Kind.Name, Guid.Parse(visits.Rows[0].Cells[visits.IndexOf("id")]), ChangeOp.Set, [new FieldChange("note", "seen", [])])], "crew 1", DateTimeOffset.UnixEpoch.AddYears(56));
        Assert.Empty(new YearsKept(file).Read());
    }

    [Theory]
    [InlineData("")]
    [InlineData("{")]
    [InlineData("[1]")]
    [InlineData("""{"Version":"0.0.1","Position":1,"Change":"00000000-0000-0000-0000-000000000000","Seasons":[]}""")]
    public void A_broken_or_foreign_file_counts_for_nothing(string text)
    {
        var (file, _, _) = Known();
        File.WriteAllText(file.Beside(".years.json"), text);
        Assert.Empty(new YearsKept(file).Read());
    }
}

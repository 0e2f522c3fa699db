using System.Buffers;
using System.Collections.Immutable;
using System.Text;
using Tussock.Models;
using Tussock.Records;
using Tussock.Results;
using Tussock.Simulation;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Results;

/// <summary>Seasons put together: which lines stay apart, what is said first, and that every year says what it says by itself.</summary>
public sealed class PooledYearsTests
{
    private static readonly MadeWith Made = new("1", 1, "2026-01-01T00:00:00Z");

    [Fact]
    public void Each_year_says_what_it_says_by_itself_and_together_they_are_the_sum()
    {
        SeasonTables[] years = [Of(1, "2024"), Of(2, "2025")];
        var alone = years.Select(y => SeasonResults.Of(SeasonReading.Read(y, out _)!)).ToArray();
        var pooled = SeasonResults.Of(Read(years));

        for (var i = 0; i < years.Length; i++)
        {
            var year = pooled.Groups.Single(g => g.Level == GroupLevel.Year && g.Year == (i == 0 ? "2024" : "2025"));
            Assert.Equal(alone[i].Whole.Counts, year.Counts);
            Assert.Equal(alone[i].Whole.Lines, year.Lines);
            Assert.Equal((alone[i].Whole.Day28.Value, alone[i].Whole.Day28.Low, alone[i].Whole.Day28.High), (year.Day28.Value, year.Day28.Low, year.Day28.High));
            foreach (var pasture in alone[i].Groups.Where(g => g.Level == GroupLevel.Pasture)) Assert.Equal(pasture.Counts, pooled.Groups.Single(g => g.Level == GroupLevel.PastureYear && g.Year == year.Year && g.Property == pasture.Property && g.Pasture == pasture.Name).Counts);
        }

        Assert.Equal(alone.Sum(a => a.Whole.Counts.Nests), pooled.Whole.Counts.Nests);
        Assert.Equal(alone.Sum(a => a.Whole.Counts.Intact), pooled.Whole.Counts.Intact);
        Assert.Equal(alone.Sum(a => a.Season.Segments.Length), pooled.Season.Segments.Length);
        Assert.Equal(alone.Sum(a => a.Season.Visits.Length), pooled.Season.Visits.Length);
    }

    [Fact]
    public void Lines_of_one_name_are_two_lines_unless_they_have_the_same_lasting_name()
    {
        SeasonTables[] years = [Nameless("2024"), Nameless("2025")];
        var apart = Read(years);
        Assert.Equal(2 * SeasonReading.Read(years[0], out _)!.Transects.Select(t => t.Line).Distinct().Count(), apart.Transects.Select(t => t.Line).Distinct(StringComparer.Ordinal).Count());
        Assert.All(apart.Transects, t => Assert.StartsWith(t.Source.Text("year") + ": ", t.Name, StringComparison.Ordinal));

        var first = years[0].Table(RecordKind.Transects)!;
        var name = first.Rows[0].Cells[first.IndexOf("transect")];
        var lasting = Read([.. years.Select(y => WithColumn(y, RecordKind.Transects, "line", r => r.Cells[first.IndexOf("transect")] == name ? "flag line 7" : ""))]);
        Assert.Equal(apart.Transects.Select(t => t.Line).Distinct(StringComparer.Ordinal).Count() - 1, lasting.Transects.Select(t => t.Line).Distinct(StringComparer.Ordinal).Count());
        Assert.Equal(2, lasting.Transects.Count(t => t.Line == "flag line 7"));
    }

    [Fact]
    public void The_year_is_an_effect_and_twice_the_same_year_has_none()
    {
        var model = SeasonModel.Of(Read(Of(1, "2024"), Of(1, "2025")), new ModelRequest { Effects = EffectChoice.Read("year") });
        var effect = Assert.Single(model.Value.Effects, e => e.Name == "year = 2025");
        Assert.Equal(0, effect.Estimate.Value!.Value, 6);
        Assert.Contains("year", ModelComparison.Usual(Frame(Read(Of(1, "2024"), Of(2, "2025")))).SelectMany(c => c.Effects));
        Assert.DoesNotContain("year", ModelComparison.Usual(Frame(SeasonReading.Read(Of(1, "2024"), out _)!)).SelectMany(c => c.Effects));
    }

    [Fact]
    public void A_worked_example_comes_out_as_its_page_says()
    {
        // docs/methods/years.md, by hand: .5 and .75 over 28 days, so .9755 and .9898 a day; log odds 3.686 and 4.573.
        var by = new[] { 0.5, 0.75 }.Select(p => Math.Pow(p, 1 / 28.0)).Select(s => Math.Log(s / (1 - s))).ToArray();
        Assert.Equal((3.686, 4.573, 0.887), (Math.Round(by[0], 3), Math.Round(by[1], 3), Math.Round(by[1] - by[0], 3)));
    }

    [Theory]
    [InlineData("egg_kind", "\"quail\"", "\"chicken\"", "pooling.egg_kind")]
    [InlineData("renew_eggs", "\"never\"", "\"all_intact\"", "pooling.renew_eggs")]
    [InlineData("clump_rule", "{ \"min_height_cm\": 25 }", "{ \"min_height_cm\": 30 }", "pooling.clump_rule")]
    [InlineData("loss_rule", "\"any_egg\"", "\"all_eggs\"", "pooling.loss_rule")]
    [InlineData("window_days", "3", "4", "pooling.window")]
    [InlineData("benchmarks", "{ \"survival\": 0.5 }", "{ \"survival\": 0.4 }", "pooling.benchmarks")]
    public void What_was_done_otherwise_is_said_first(string setting, string one, string other, string key)
    {
        var same = Read(With(Of(1, "2024"), setting, one), With(Of(2, "2025"), setting, one));
        Assert.DoesNotContain(same.Tables.Pooled!.Cautions, c => c.Key == key);
        var differing = Read(With(Of(1, "2024"), setting, one), With(Of(2, "2025"), setting, other));
        var caution = Assert.Single(differing.Tables.Pooled!.Cautions, c => c.Key == key);
        Assert.Contains("2024", Catalogue.English.Say(caution), StringComparison.Ordinal);
        Assert.Contains(caution, PooledSentences.Of(differing.Tables.Pooled));
    }

    [Fact]
    public void Set_outs_more_than_a_fortnight_apart_in_the_year_are_said_and_a_fortnight_is_not()
    {
        foreach (var (days, isSaid) in new[] { (14, false), (15, true), (-15, true), (365, false) })
        {
            var later = Shifted(Of(1, "2025"), days);
            Assert.Equal(isSaid, Read(Of(1, "2024"), later).Tables.Pooled!.Cautions.Any(c => c.Key == "pooling.set_on"));
        }
    }

    [Theory]
    [InlineData("check_days", "[10, 28]", "pooling.days")]
    [InlineData("trial_days", "30", "pooling.days")]
    [InlineData("cover_classes", "[ { \"name\": \"bunchgrass\", \"role\": \"other\" } ]", "pooling.role")]
    public void What_is_not_the_same_trial_is_not_pooled(string setting, string other, string key)
    {
        Assert.Null(SeasonPooling.Pool([Of(1, "2024"), With(Of(2, "2025"), setting, other)], out var problems));
        Assert.Contains(problems, p => p.What.Key == key && p.Severity == Severity.Stop);
    }

    [Fact]
    public void A_season_that_cannot_be_read_stops_with_its_name_before_its_files()
    {
        var broken = WithColumn(Of(1, "2025"), RecordKind.Transects, "set_on", _ => "no day");
        Assert.Null(SeasonPooling.Pool([Of(1, "2024"), broken], out var problems));
        Assert.All(problems, p => Assert.StartsWith("2025/", p.Place.File, StringComparison.Ordinal));
    }

    [Fact]
    public void How_a_pasture_was_managed_stays_with_its_year()
    {
        var pooled = Read(WithColumn(Of(1, "2024"), RecordKind.Pastures, "management", _ => "grazed"), WithColumn(Of(2, "2025"), RecordKind.Pastures, "management", _ => "rested"));
        Assert.All(pooled.Transects, t => Assert.Equal(t.Source.Text("year") == "2024" ? "grazed" : "rested", t.Source.Text("management")));
    }

    [Fact]
    public void The_document_of_one_season_has_no_word_of_years_and_that_of_several_has()
    {
        var one = Document(SeasonResults.Of(SeasonReading.Read(Of(1, "2024"), out _)!));
        Assert.DoesNotContain("\"pooled\"", one, StringComparison.Ordinal);
        Assert.DoesNotContain("\"level\": \"year\"", one, StringComparison.Ordinal);
        var several = Document(SeasonResults.Of(Read(Of(1, "2024"), Of(2, "2025"))));
        Assert.Contains("\"pooled\"", several, StringComparison.Ordinal);
        Assert.Contains("\"level\": \"pasture_year\"", several, StringComparison.Ordinal);
    }

    private static Season Read(params SeasonTables[] years)
    {
        var pooled = SeasonPooling.Pool(years, out var problems);
        Assert.Empty(problems);
        var season = SeasonReading.Read(pooled!, out var wrong);
        Assert.Empty(wrong);
        return season!;
    }

    private static ModelFrame Frame(Season season) => ModelFrame.Of(season, Fates.SeasonFates.Of(season), new FrameOptions());

    private static string Document(SeasonResults results)
    {
        var buffer = new ArrayBufferWriter<byte>();
        ResultsDocument.Write(results, Made, withFates: false, Catalogue.English, buffer);
        return Encoding.UTF8.GetString(buffer.WrittenSpan);
    }

    /// <summary>The built-in season under another name and year, on the same dates of the year.</summary>
    private static SeasonTables Of(ulong seed, string year) => With(With(DemoSeason.Write(seed), "name", "\"" + year + "\""), "year", "\"" + year + "\"");

    /// <summary>The same without lasting names of its lines, which the built-in season has.</summary>
    private static SeasonTables Nameless(string year) => WithColumn(Of(1, year), RecordKind.Transects, "line", _ => "");

    private static SeasonTables With(SeasonTables season, string name, string json) =>
        season with { Package = season.Package with { Season = [.. season.Package.Season.Where(p => p.Name != name), new JsonProperty(name, json)] } };

    private static SeasonTables WithColumn(SeasonTables season, RecordKind kind, string column, Func<RecordRow, string> write)
    {
        var table = season.Table(kind)!;
        var at = table.IndexOf(column);
        var changed = at >= 0
            ? table with { Rows = [.. table.Rows.Select(r => r with { Cells = r.Cells.SetItem(at, write(r)) })] }
            : table with { Columns = table.Columns.Add(column), Rows = [.. table.Rows.Select(r => r with { Cells = r.Cells.Add(write(r)) })] };
        return season with { Tables = season.Tables.Replace(table, changed) };
    }

    /// <summary>The season with every date of set-out and of a visit moved.</summary>
    private static SeasonTables Shifted(SeasonTables season, int days)
    {
        foreach (var (kind, column) in new[] { (RecordKind.Transects, "set_on"), (RecordKind.Nests, "set_on"), (RecordKind.Visits, "visited_on"), (RecordKind.Remains, "visited_on") })
        {
            if (season.Table(kind) is not { } table || table.IndexOf(column) is not (>= 0 and var at)) continue;
            season = WithColumn(season, kind, column, r => DateOnly.TryParseExact(r.Cells[at], "yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture, System.Globalization.DateTimeStyles.None, out var on) ? on.AddDays(days).ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture) : r.Cells[at]);
        }

        return season;
    }
}

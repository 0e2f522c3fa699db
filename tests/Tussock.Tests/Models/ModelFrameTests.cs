using System.Collections.Immutable;
using System.Globalization;
using FsCheck.Xunit;
using Tussock.Fates;
using Tussock.Models;
using Tussock.Records;
using Tussock.Tests.Review;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Models;

public class ModelFrameTests
{
    private static SmallSeason Season => new SmallSeason()
        .Without("cameras.csv", _ => true)
        .WithAll("nests.csv", "concealment", "3").With("nests.csv", 2, "concealment", "1")
        .WithAll("transects.csv", "stratum", "sand").With("transects.csv", 3, "stratum", "clay")
        .WithAll("pastures.csv", "management", "rested");

    private static ModelDesign Design(SmallSeason season, string effects, FrameOptions? options = null)
    {
        var frame = FrameOf(season.Read(), options);
        var choice = EffectChoice.Read(effects);
        return ModelDesign.Of(ModelNests.Of(frame, choice.Effects).Value, choice);
    }

    internal static ModelFrame FrameOf(Season season, FrameOptions? options = null) => ModelFrame.Of(season, SeasonFates.Of(season), options ?? new FrameOptions());

    private static Phrase Why(SmallSeason season, string effect) => ModelNests.Of(FrameOf(season.Read()), [effect]).Why!;

    [Fact]
    public void A_class_is_held_against_the_first_of_the_season_and_text_against_the_first_in_alphabetical_order()
    {
        Assert.Equal(["intercept", "cover = cactus", "stratum = sand", "concealment"], Design(Season, "cover, stratum, concealment").Columns);
        Assert.Equal(["intercept", "cover = grass"], Design(Season.WithSetting("cover_classes", """[{"name":"cactus","role":"other"},{"name":"grass","role":"grass"}]"""), "cover").Columns);
    }

    [Fact]
    public void The_reference_is_the_first_class_that_a_nest_sits_in() =>
        Assert.Equal(["intercept", "cover = grass"], Design(Season.WithSetting("cover_classes", """[{"name":"shrub","role":"other"},{"name":"cactus","role":"other"},{"name":"grass","role":"grass"}]"""), "cover").Columns);

    [Fact]
    public void An_interaction_names_the_class_first_and_brings_both_effects()
    {
        Assert.Equal(["intercept", "concealment", "cover = cactus", "cover = cactus, by concealment"], Design(Season.With("nests.csv", 3, "concealment", "5"), "concealment by cover").Columns);
        Assert.Equal(["intercept", "cover = cactus", "fortnight = second", "cover = cactus, by fortnight = second"], Design(Season, "cover by fortnight").Columns);
    }

    [Fact]
    public void A_column_that_says_nothing_of_its_own_is_left_out()
    {
        var design = Design(Season.With("transects.csv", 2, "observer", "A").With("transects.csv", 3, "observer", "B"), "management, stratum, observer");
        Assert.Equal(["intercept", "stratum = sand"], design.Columns);
        Assert.Equal(["management", "observer = B"], design.LeftOut);
    }

    [Fact]
    public void Nests_without_a_value_are_left_out_and_counted()
    {
        var nests = ModelNests.Of(FrameOf(Season.With("nests.csv", 3, "concealment", "").With("nests.csv", 4, "cover", "").Read()), ["concealment", "cover"]).Value;
        Assert.Equal([("concealment", 1), ("cover", 1)], nests.LeftOut);
        Assert.Equal((6, 12, 1), (nests.Rows.Length, nests.Intervals, nests.Losses));
    }

    [Fact]
    public void An_unknown_effect_is_told_with_those_that_can_be_chosen()
    {
        var why = Catalogue.English.Say(Why(Season, "moon"));
        Assert.Contains("moon", why, StringComparison.Ordinal);
        Assert.Contains("cover, concealment, ", why, StringComparison.Ordinal);
        Assert.Contains("fortnight, egg_age, season_date, stratum", why, StringComparison.Ordinal);
        Assert.DoesNotContain("refreshed", why, StringComparison.Ordinal);
        Assert.DoesNotContain("management", why, StringComparison.Ordinal);
        Assert.Equal("model_choice.unknown_effect", Why(Season, "note").Key);
        Assert.Equal("model_choice.unknown_effect", Why(Season, "clumps_per_acre").Key);
    }

    [Fact]
    public void A_name_for_every_nest_is_no_effect()
    {
        var many = Season;
        for (var line = 3; line <= 4; line++)
        {
            many.Add("transects.csv", $"property=Two Windmills pasture=East transect=T{line} set_on=2024-05-06");
            for (var nest = 1; nest <= 2; nest++)
            {
                many.Add("nests.csv", $"transect=T{line} nest={nest} cover=grass");
                many.Add("visits.csv", $"transect=T{line} nest={nest} visited_on=2024-06-03 finding=intact");
            }
        }

        for (var line = 2; line < many.Rows("nests.csv") + 2; line++) many.With("nests.csv", line, "tag", "N" + line.ToString(CultureInfo.InvariantCulture));
        Assert.Equal("model_choice.too_many_classes", Why(many, "tag").Key);
    }

    [Fact]
    public void A_year_names_a_class_and_other_numbers_are_numbers()
    {
        var season = Season.WithAll("transects.csv", "year", "2023").With("transects.csv", 3, "year", "2024").WithAll("transects.csv", "slope", "2").With("transects.csv", 3, "slope", "4");
        Assert.Equal(["intercept", "year = 2024"], Design(season, "year").Columns);
        Assert.Equal(["intercept", "slope"], Design(season, "slope").Columns);
    }

    [Fact]
    public void A_column_of_the_nests_wins_over_what_is_computed()
    {
        var season = Season.WithAll("nests.csv", "clumps_per_acre", "100").With("nests.csv", 2, "clumps_per_acre", "200");
        var options = new FrameOptions { ClumpsPerAcre = ImmutableDictionary<string, double>.Empty.Add("T1", 300).Add("T2", 400) };
        Assert.Equal(100, FrameOf(season.Read(), options).Effect("clumps_per_acre")!.At(1, 0));
        Assert.Equal(300, FrameOf(Season.Read(), options).Effect("clumps_per_acre")!.At(1, 0));
    }

    [Fact]
    public void An_interval_across_the_first_check_is_cut_there()
    {
        var season = Season.Without("visits.csv", v => v["visited_on"] == "2024-05-20" && v["nest"] == "3");
        var table = Design(season, "fortnight").Table();
        Assert.Equal(2, table.Losses);
        Assert.Equal([14.0, 14, 14, 14], table.PieceDays);
        Assert.Equal([1.0, 0, 1, 1], table.Row(table.PiecePattern[0]).ToArray().Concat(table.Row(table.PiecePattern[1]).ToArray()));
    }

    [Fact]
    public void Eggs_grow_older_day_by_day_and_begin_anew_when_they_are_refreshed()
    {
        var season = Season.With("visits.csv", 2, "eggs_refreshed", "yes");
        var frame = FrameOf(season.Read());
        var (age, refreshed) = (frame.Effect("egg_age")!, frame.Effect("refreshed")!);
        Assert.Equal([0.5, 12.5, 13.5, 0.5, 1.5], new[] { 0.3, 13, 13.4, 14.6, 15.5 }.Select(d => age.At(0, d)));
        Assert.Equal([13.5, 14.5], new[] { 13.4, 14.6 }.Select(d => age.At(1, d)));
        Assert.Equal([0.0, 0, 1, 0], new[] { refreshed.At(0, 0.5), refreshed.At(0, 13.5), refreshed.At(0, 14.5), refreshed.At(1, 20) });

        var cuts = Design(season, "egg_age").Cuts(0, 0, 28);
        Assert.Equal(Enumerable.Range(1, 28).Select(d => (double)d), cuts);
        Assert.Equal(["no", "yes"], refreshed.Levels);
    }

    [Fact]
    public void Season_date_counts_from_the_first_set_out()
    {
        var frame = FrameOf(Season.With("nests.csv", 6, "set_on", "2024-05-08").Read());
        Assert.Equal([0.5, 2.5, 16.5], new[] { frame.Effect("season_date")!.At(0, 0.5), frame.Effect("season_date")!.At(4, 0.5), frame.Effect("season_date")!.At(4, 14.2) });
    }

    [Fact]
    public void Predation_alone_watches_a_nest_lost_otherwise_to_its_last_intact_visit()
    {
        var season = Season.With("visits.csv", 8 + 2 + 2, "finding", "other_loss").With("visits.csv", 8 + 2 + 2, "cause", "trampled").Read();
        var all = FrameOf(season);
        var predation = FrameOf(season, new FrameOptions { Outcome = Outcome.Predation });
        Assert.Equal((2, 16), (all.Nests.Count(n => n.IsLost), all.Nests.Sum(n => n.Intervals)));
        Assert.Equal((1, 15), (predation.Nests.Count(n => n.IsLost), predation.Nests.Sum(n => n.Intervals)));
    }

    [Fact]
    public void An_artefact_ends_the_watching_as_an_intact_visit()
    {
        var season = Season.With("visits.csv", 2, "finding", "other_loss").With("visits.csv", 2, "cause", "crew").Read();
        Assert.Equal([14.0], FrameOf(season).Nests[0].Intact);
        Assert.False(FrameOf(season).Nests[0].IsLost);
    }

    [Theory]
    [InlineData("constant", "constant")]
    [InlineData("", "constant")]
    [InlineData("cover,fortnight", "cover, fortnight")]
    [InlineData(" cover , cover by fortnight", "cover by fortnight")]
    [InlineData("a by b, b by a, c", "c, a by b")]
    [InlineData("a by a", "a")]
    public void A_choice_is_read_from_plain_words(string typed, string said)
    {
        Assert.Equal(said, EffectChoice.Read(typed).ToString());
        Assert.Equal(EffectChoice.Read(said).Interactions, EffectChoice.Read(typed).Interactions);
    }
}

public class ModelFrameLaws
{
    private static readonly string[] Findings = ["intact", "depredated", "not_relocated", "other_loss"];

    private static SmallSeason Drawn(int seed)
    {
        var random = new Random(seed);
        var season = new SmallSeason();
        for (var line = 2; line < season.Rows("visits.csv") + 2; line++)
        {
            season.With("visits.csv", line, "finding", Findings[random.Next(4)]).With("visits.csv", line, "eggs_intact", "").With("visits.csv", line, "eggs_refreshed", random.Next(2) == 0 ? "yes" : "");
        }

        for (var line = 2; line < season.Rows("nests.csv") + 2; line++) season.With("nests.csv", line, "concealment", random.Next(5).ToString(CultureInfo.InvariantCulture));
        return season;
    }

    private static string Written(Season season, string effects)
    {
        var choice = EffectChoice.Read(effects);
        var nests = ModelNests.Of(ModelFrameTests.FrameOf(season), choice.Effects);
        if (!nests.HasValue) return nests.Why.Key;
        var table = ModelDesign.Of(nests.Value, choice).Table();
        string Row(int p) => string.Join(' ', table.Row(p).ToArray()) + ":" + table.Watched[p].ToString("F9", CultureInfo.InvariantCulture) + ":" + table.Timed[p];
        var losses = Enumerable.Range(0, table.Losses).Select(l => string.Join('+', Enumerable.Range(table.LossPieces[l], table.LossPieces[l + 1] - table.LossPieces[l]).Select(i => string.Join(' ', table.Row(table.PiecePattern[i]).ToArray()) + "*" + table.PieceDays[i])));
        return string.Join('\n', [string.Join(',', table.Columns), $"{table.Nests} {table.Intervals} {table.Groups}", .. Enumerable.Range(0, table.Patterns).Select(Row), .. losses]);
    }

    [Property(MaxTest = 60)]
    public void The_order_of_rows_changes_nothing(int seed, int order)
    {
        const string Effects = "cover by fortnight, concealment, egg_age, refreshed, season_date";
        Assert.Equal(Written(Drawn(seed).Read(), Effects), Written(Drawn(seed).Shuffled(order).Read(), Effects));
    }

    [Property(MaxTest = 60)]
    public void A_visit_that_did_not_relocate_the_nest_changes_nothing(int seed, byte nest, byte day)
    {
        var more = Drawn(seed).Add("visits.csv", $"transect=T{(nest % 2) + 1} nest={(nest % 4) + 1} visited_on={new DateOnly(2024, 5, 7).AddDays(day % 40):yyyy-MM-dd} finding=not_relocated");
        foreach (var effects in new[] { "constant", "cover, egg_age", "fortnight, refreshed" }) Assert.Equal(Written(Drawn(seed).Read(), effects), Written(more.Read(), effects));
    }

    [Property(MaxTest = 60)]
    public void Cutting_an_interval_keeps_its_days(int seed, bool daily)
    {
        var season = Drawn(seed).Read();
        double[] Days(string effects)
        {
            var choice = EffectChoice.Read(effects);
            var nests = ModelNests.Of(ModelFrameTests.FrameOf(season), choice.Effects);
            if (!nests.HasValue) return [];
            var table = ModelDesign.Of(nests.Value, choice).Table();
            return [table.Watched.Sum(), table.PieceDays.Sum(), table.Losses, table.Timed.Sum(), table.Intervals, table.Nests];
        }

        Assert.All(Days("constant").Zip(Days(daily ? "egg_age, season_date" : "fortnight, refreshed")), d => Near.Is(d.First, d.Second, 1e-12, 1));
    }
}

/// <summary>Visit intervals of the reference seasons against those that the reference scripts made.</summary>
public class ModelFrameChecks
{
    public static TheoryData<string> Sets => ["tiny20", "typical144", "all_survive48", "separation120", "strong600"];

    private static string[][] Rows(string set, string file) => [.. Checks.Read("reference-seasons", Path.Combine(set, file)).Split('\n').Skip(1).Where(l => l.Length > 0).Select(l => l.TrimEnd('\r').Split(','))];

    private static ModelFrame Frame(string set, string folder, CameraTimes cameras) => ModelFrameTests.FrameOf(FolderInTests.Season(Path.Combine(Checks.Folder("reference-seasons"), set, folder)), new FrameOptions { Cameras = cameras });

    [Theory]
    [MemberData(nameof(Sets))]
    public void Visit_intervals_are_those_of_the_reference(string set)
    {
        var expected = Rows(set, "intervals.csv").Select(r => $"{r[0]} {r[1]} {r[2]} {r[4]}").Order(StringComparer.Ordinal);
        foreach (var (folder, cameras) in new[] { ("season", CameraTimes.Exact), ("season_with_cameras", CameraTimes.Ignore) })
        {
            var found = Frame(set, folder, cameras).Nests.SelectMany(n =>
            {
                double[] ends = n.FirstLost is { } lost ? [.. n.Intact, lost] : [.. n.Intact];
                return ends.Select((end, i) => string.Create(CultureInfo.InvariantCulture, $"{n.Nest.Source.Text("nest_id")} {(i == 0 ? 0 : ends[i - 1])} {end} {(i < n.Intact.Length ? 1 : 0)}"));
            });
            Assert.Equal(expected, found.Order(StringComparer.Ordinal));
        }
    }

    [Theory]
    [MemberData(nameof(Sets))]
    public void Bounds_and_camera_times_are_those_of_the_reference(string set)
    {
        var expected = Rows(set, "bounds.csv").Select(r => $"{r[0]} {r[3]} {r[4]}").Order(StringComparer.Ordinal);
        var found = Frame(set, "season_with_cameras", CameraTimes.Exact).Nests.Select(n => string.Create(CultureInfo.InvariantCulture, $"{n.Nest.Source.Text("nest_id")} {n.LostAt ?? n.LastIntact} {n.LostAt ?? n.FirstLost}"));
        Assert.Equal(expected, found.Order(StringComparer.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Sets))]
    public void Nests_and_intervals_are_counted_as_in_the_reference(string set)
    {
        var nests = ModelNests.Of(Frame(set, "season", CameraTimes.Ignore), ["cover", "clump_density", "concealment"]).Value;
        using var json = System.Text.Json.JsonDocument.Parse(Checks.Read("reference-seasons", Path.Combine(set, "expected.json")));
        var counts = json.RootElement.GetProperty("counts");
        int Count(string name) => counts.GetProperty(name).GetInt32();
        var table = ModelDesign.Of(nests, EffectChoice.Read("cover, clump_density, concealment")).Table();
        Assert.Equal((Count("nests_with_a_check"), Count("intervals"), Count("failed_intervals")), (table.Nests, table.Intervals, table.Losses));
        Near.Is(Count("exposure_days_survived_intervals"), table.Watched.Sum(), 1e-12);
        Assert.Equal(Count("transects"), table.Groups);
    }
}

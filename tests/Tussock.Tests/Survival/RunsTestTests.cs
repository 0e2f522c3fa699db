using System.Text.Json;
using FsCheck.Xunit;
using Tussock.Fates;
using Tussock.Numerics;
using Tussock.Survival;
using Xunit;

namespace Tussock.Tests.Survival;

public class RunsTestTests
{
    internal static NestSpans Line(params (int Transect, int Cover, FateAt Fate)[] nests) => new()
    {
        LastIntact = new double[nests.Length],
        FirstLost = [.. nests.Select(_ => double.PositiveInfinity)],
        LostAt = [.. nests.Select(_ => double.NaN)],
        Line = [.. nests.Select(n => n.Transect)],
        Transect = [.. nests.Select(n => n.Transect)],
        Nest = [.. Enumerable.Range(1, nests.Length)],
        Cover = [.. nests.Select(n => n.Cover)],
        Pasture = new int[nests.Length],
        Cause = new Cause[nests.Length],
        Day14 = [.. nests.Select(n => n.Fate)],
        Day28 = [.. nests.Select(n => n.Fate)],
        LineNames = [],
        CoverNames = [],
    };

    internal static NestSpans Line(string fates, string covers) =>
        Line([.. fates.Select((f, i) => (0, covers[i] - 'a', f == 'L' ? FateAt.Lost : f == 'i' ? FateAt.Survived : FateAt.Unknown))]);

    private static Answer<RunsOfLosses> Together(NestSpans nests) => RunsTest.Together(RunsTest.Lines(nests, nests.Day28, 1));

    [Fact]
    public void Three_losses_side_by_side_among_six_by_hand()
    {
        // 20 arrangements; R = 2 in two of them, R = 3 in four.
        var found = Together(Line("LLLiii", "aaaaaa")).Value;
        Assert.Equal((1, 6, 3, 2), (found.Lines, found.Nests, found.Lost, found.Runs));
        Assert.Equal(0.1, found.P, 1e-14);
        Assert.Equal(4, found.Expected, 1e-14);
        Assert.Equal(6.0 / 20, Together(Line("LiiiLL", "aaaaaa")).Value.P, 1e-14);
    }

    [Fact]
    public void Unknown_nests_are_taken_out_and_the_gap_is_closed()
    {
        var (with, without) = (Together(Line("LL?Lii?i", "aababaaa")).Value, Together(Line("LLLiii", "aabaaa")).Value);
        Assert.Equal((without.Runs, without.Nests, without.P), (with.Runs, with.Nests, with.P));
    }

    [Theory]
    [InlineData("LLLL", "aaaa")]
    [InlineData("iiii", "abab")]
    [InlineData("LiLi", "abab")]
    [InlineData("????", "aaaa")]
    public void Where_only_one_arrangement_exists_there_is_a_reason(string fates, string covers)
    {
        var found = Together(Line(fates, covers));
        Assert.Equal("runs.not_informative", found.Why?.Key);
        Assert.NotEmpty(Words.Catalogue.English.Say(found.Why!));
    }

    [Fact]
    public void Lines_that_say_nothing_are_left_out_of_all_sums()
    {
        FateAt l = FateAt.Lost, i = FateAt.Survived;
        var found = Together(Line((0, 0, l), (0, 0, i), (1, 0, l), (1, 0, l), (2, 1, i), (2, 0, i), (2, 0, l))).Value;
        Assert.Equal((2, 5, 2), (found.Lines, found.Nests, found.Lost));
    }

    [Fact]
    public void Arrangements_drawn_on_a_line_of_four_classes_come_near_the_count_of_all()
    {
        var nests = Line("LLLiiiLiLLii", "abcdabcdabcd");
        var found = Together(nests).Value;
        var all = RunsTestLaws.Count([.. nests.Day28.Select(f => f == FateAt.Lost)], nests.Cover);
        var p = all.Take(found.Runs + 1).Sum();
        Assert.InRange(found.P, p - (4 * Math.Sqrt(p * (1 - p) / 9999)), p + (4 * Math.Sqrt(p * (1 - p) / 9999)) + 1e-4);
        Assert.Contains(found.Notes, note => note.Key == "runs.drawn");
        Assert.All(found.Notes, note => Assert.NotEmpty(Words.Catalogue.English.Say(note)));
        Assert.Equal(all.Select((x, r) => x * r).Sum(), found.Expected, 1e-12);
        Assert.Equal(found.P, Together(nests).Value.P);
    }

    [Fact]
    public void A_long_line_is_drawn_and_joined_with_lines_that_are_counted()
    {
        FateAt Fate(int i) => i / 10 % 2 == 0 ? FateAt.Lost : FateAt.Survived;
        var nests = Line([.. Enumerable.Range(0, 70).Select(i => (0, 0, Fate(i))), .. Enumerable.Range(0, 20).Select(i => (1, i % 2, Fate(i)))]);
        var found = Together(nests).Value;
        Assert.Equal((2, 90, 9), (found.Lines, found.Nests, found.Runs));
        Assert.Equal(1.0 / 10000, found.P, 1e-8);
    }

    [Fact]
    public void Two_thousand_lines_give_the_chance_that_their_spread_says()
    {
        var chance = new Random(4);
        var nests = Line([.. Enumerable.Range(0, 40000).Select(i => (i / 20, i % 2, chance.NextDouble() < 0.4 ? FateAt.Lost : FateAt.Survived))]);
        var lines = RunsTest.Lines(nests, nests.Day28, 1);
        var found = RunsTest.Together(lines).Value;
        var variance = lines.Where(l => l.Distribution is not null).Sum(l => l.Distribution!.Select((p, r) => p * Math.Pow(r - l.Expected, 2)).Sum());
        Assert.Equal(Tails.NormalBelow((found.Runs + 0.5 - found.Expected) / Math.Sqrt(variance)), found.P, 2e-3);
    }
}

public class RunsTestLaws
{
    [Property(MaxTest = 200)]
    public void The_distribution_is_the_count_of_all_arrangements((bool Lost, byte Cover)[] seeds)
    {
        var (lost, cover) = Nests(seeds, 10);
        if (lost.Length == 0) return;
        var expected = Count(lost, cover);
        var found = new RunsDistribution().Of(new ClassesOnLine(lost, cover));
        for (var r = 0; r < expected.Length; r++) Assert.Equal(expected[r], r < found.Length ? found[r] : 0, 1e-13);
    }

    [Property]
    public void Working_room_left_by_another_line_changes_nothing((bool, byte)[] first, (bool, byte)[] second)
    {
        var (one, two) = (Nests(first, 40), Nests(second, 40));
        if (one.Lost.Length == 0 || two.Lost.Length == 0) return;
        var used = new RunsDistribution();
        used.Of(new ClassesOnLine(one.Lost, one.Cover));
        Assert.Equal(new RunsDistribution().Of(new ClassesOnLine(two.Lost, two.Cover)), used.Of(new ClassesOnLine(two.Lost, two.Cover)));
    }

    [Property]
    public void Walking_the_line_the_other_way_changes_nothing((bool, byte)[] seeds)
    {
        var (lost, cover) = Nests(seeds, 40);
        if (lost.Length == 0) return;
        var one = new RunsDistribution().Of(new ClassesOnLine(lost, cover));
        var other = new RunsDistribution().Of(new ClassesOnLine([.. lost.Reverse()], [.. cover.Reverse()]));
        Assert.All(one.Zip(other), x => Assert.Equal(x.First, x.Second, 1e-12));
    }

    [Property]
    public void Lost_and_intact_exchanged_change_nothing((bool, byte)[] seeds)
    {
        var (lost, cover) = Nests(seeds, 40);
        if (lost.Length == 0) return;
        var one = new RunsDistribution().Of(new ClassesOnLine(lost, cover));
        var other = new RunsDistribution().Of(new ClassesOnLine([.. lost.Select(l => !l)], cover));
        Assert.All(one.Zip(other), x => Assert.Equal(x.First, x.Second, 1e-12));
    }

    [Property]
    public void The_order_of_rows_changes_nothing((bool Lost, byte Cover)[] seeds)
    {
        if (seeds.Length == 0) return;
        (int, int, FateAt)[] nests = [.. seeds.Select((s, i) => (i % 3, s.Cover % 3, s.Lost ? FateAt.Lost : FateAt.Survived))];
        var spans = RunsTestTests.Line(nests);
        var shuffled = spans.Rows([.. Enumerable.Range(0, spans.Count).Reverse()]);
        var (one, other) = (RunsTest.Together(RunsTest.Lines(spans, spans.Day28, 1)), RunsTest.Together(RunsTest.Lines(shuffled, shuffled.Day28, 1)));
        Assert.Equal(one.Why, other.Why);
        if (one.HasValue) Assert.Equal((one.Value.Runs, one.Value.Expected, one.Value.P), (other.Value.Runs, other.Value.Expected, other.Value.P));
    }

    [Property]
    public void Joining_two_by_two_is_the_plain_convolution(byte[][] seeds)
    {
        var parts = seeds.Where(s => s is not null && s.Length > 0).Select(s => s.Select(x => x + 1.0).ToArray()).Select(s => s.Select(x => x / s.Sum()).ToArray()).ToArray();
        double[] plain = [1];
        foreach (var part in parts)
        {
            var next = new double[plain.Length + part.Length - 1];
            for (var i = 0; i < plain.Length; i++) for (var j = 0; j < part.Length; j++) next[i + j] += plain[i] * part[j];
            plain = next;
        }

        var joined = Convolution.Of(parts);
        for (var x = 0; x < plain.Length; x++) Assert.Equal(plain.Take(x + 1).Sum(), joined.UpTo(x), 1e-12);
    }

    /// <summary>P(R = r) by trying every arrangement that keeps each class's losses.</summary>
    internal static double[] Count(bool[] lost, int[] cover)
    {
        static int Losses(bool[] arrangement, int[] cover, int c) => arrangement.Where((l, i) => l && cover[i] == c).Count();
        var ways = new double[lost.Length + 1];
        for (var bits = 0; bits < 1 << lost.Length; bits++)
        {
            var arrangement = Enumerable.Range(0, lost.Length).Select(i => (bits >> i & 1) == 1).ToArray();
            if (cover.Distinct().All(c => Losses(arrangement, cover, c) == Losses(lost, cover, c))) ways[1 + arrangement.Zip(arrangement.Skip(1)).Count(x => x.First != x.Second)]++;
        }

        return [.. ways.Select(w => w / ways.Sum())];
    }

    private static (bool[] Lost, int[] Cover) Nests((bool Lost, byte Cover)[] seeds, int most) =>
        ([.. seeds.Take(most).Select(s => s.Lost)], [.. seeds.Take(most).Select(s => s.Cover % 3)]);
}

public class RunsTestChecks
{
    public static TheoryData<string, string> Sets => new(
        from set in new[] { "tiny20", "typical144", "separation120", "all_survive48", "strong600" }
        from check in new[] { "check14", "check28" }
        select (set, check));

    [Theory]
    [MemberData(nameof(Sets))]
    public void Reference_seasons_are_met(string set, string check)
    {
        var nests = ReferenceSeason.Whole(set);
        var lines = RunsTest.Lines(nests, check == "check14" ? nests.Day14 : nests.Day28, 1);
        var expected = ReferenceSeason.Block(set, "extra.json", "runs").GetProperty(check);
        Same(expected.GetProperty("season"), RunsTest.Together(lines));
        foreach (var pasture in ReferenceSeason.ByPasture(set)) Same(expected.At("pasture/" + pasture.Key), RunsTest.Together(lines.Where(l => l.Pasture == pasture.Value.Pasture[0])));
        foreach (var line in lines)
        {
            var name = nests.LineNames[line.Transect];
            if (expected.GetProperty("transect") is { ValueKind: JsonValueKind.Object } transects && transects.TryGetProperty(name, out var one)) Same(one, RunsTest.Together([line]));
            else Assert.False(line.IsInformative);
        }
    }

    private static void Same(JsonElement expected, Answer<RunsOfLosses> found)
    {
        if (expected.TryGetProperty("why", out _))
        {
            Assert.False(found.HasValue);
            return;
        }

        var value = found.Value;
        int Count(string name) => expected.GetProperty(name).GetInt32();
        Assert.Equal((Count("lines"), Count("nests"), Count("lost"), Count("runs")), (value.Lines, value.Nests, value.Lost, value.Runs));
        Assert.Equal(expected.GetProperty("expected").GetDouble(), value.Expected, 1e-9 * value.Expected);
        Assert.Equal(expected.GetProperty("p").GetDouble(), value.P, 1e-10);
    }
}

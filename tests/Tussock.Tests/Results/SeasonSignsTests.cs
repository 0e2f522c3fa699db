using System.Buffers;
using System.Collections.Immutable;
using Tussock.Evidence;
using Tussock.Records;
using Tussock.Results;
using Tussock.Simulation;
using Tussock.Tests.Models;
using Tussock.Words;
using Xunit;

namespace Tussock.Tests.Results;

public class SeasonSignsTests
{
    private static Season Demo(ulong seed = 1) => SeasonReading.Read(DemoSeason.Write(seed), out _)!;

    private static SeasonSigns Of(Season season, params Season[] others) => SeasonSigns.Of(season, others, new ResultsOptions { Cancel = TestContext.Current.CancellationToken });

    private static byte[] Bytes(Season season, params Season[] others)
    {
        var buffer = new ArrayBufferWriter<byte>();
        SignsDocument.Write(Of(season, others), new MadeWith("test", 1, "2026-01-01T00:00:00Z"), Catalogue.English, buffer);
        return buffer.WrittenSpan.ToArray();
    }

    /// <summary>The built-in season, with what somebody else read at the same nests.</summary>
    private static Season ReadTwice(Func<int, string, string> second, string guess)
    {
        var tables = DemoSeason.Write(1);
        var remains = tables.Tables.Single(t => t.Kind == RecordKind.Remains);
        var (observer, value, guessed) = (remains.IndexOf("observer"), remains.IndexOf("value"), remains.IndexOf("crew_guess"));
        var rows = remains.Rows.Select(r => r with { Cells = r.Cells.SetItem(guessed, guess) });
        var more = rows.Select((r, i) => new RecordRow(r.Line + remains.Rows.Length, r.Cells.SetItem(observer, "crew 9").SetItem(value, second(i, r.Cells[value]))));
        return SeasonReading.Read(tables with { Tables = tables.Tables.Replace(remains, remains with { Rows = [.. rows, .. more] }) }, out _)!;
    }

    [Fact]
    public void One_thread_and_all_of_them_write_the_same_bytes()
    {
        var (season, other) = (Demo(5), Demo(6));
        byte[] one = [];
        OneThread.Run(() => one = Bytes(season, other));
        Assert.Equal(Bytes(season, other), one);
    }

    [Fact]
    public void It_stops_when_it_is_asked_to() =>
        Assert.ThrowsAny<OperationCanceledException>(() => SeasonSigns.Of(Demo(), [], new ResultsOptions { Cancel = new CancellationToken(true) }));

    [Fact]
    public void Progress_stays_between_nothing_and_all_and_gets_there()
    {
        var told = new List<double>();
        SeasonSigns.Of(Demo(), [], new ResultsOptions
        {
            Cancel = TestContext.Current.CancellationToken,
            Progress = share =>
            {
                lock (told) told.Add(share);
            },
        });
        Assert.Equal(1, told.Max());
        Assert.All(told, share => Assert.InRange(share, 0, 1));
    }

    [Fact]
    public void Observers_who_read_alike_agree_and_those_who_do_not_less()
    {
        var (alike, apart) = (Of(ReadTwice((_, value) => value, "")), Of(ReadTwice((i, value) => i % 3 == 0 && value is "yes" or "no" ? value == "yes" ? "no" : "yes" : value, "")));
        Assert.NotEmpty(alike.Agreement);
        Assert.All(alike.Agreement, a => Assert.Equal(1.0, a.SharedReading));
        Assert.All(alike.Agreement, a => Assert.True(a.Kappa is { Value: 1.0, Why.Key: "signs.kappa.all_agree" } or { Value: null, Why: not null }));
        Assert.True(apart.Agreement.Single(a => a.Sign == "rooting").SharedReading < 1);
    }

    [Fact]
    public void A_crew_that_always_guesses_one_class_agrees_by_chance_alone()
    {
        Assert.Equal("signs.kappa.nothing", Of(Demo()).GuessesAgainstCameras.Why!.Key);
        Assert.Equal(0, Of(ReadTwice((_, value) => value, "raccoon")).GuessesAgainstCameras.Value!.Value, 12);
    }

    [Fact]
    public void A_nest_that_shows_one_sign_in_two_ways_is_said_to_have_had_more_visitors_perhaps()
    {
        var signs = Of(ReadTwice((_, value) => value == "yes" ? "no" : value == "no" ? "yes" : value, ""));
        Assert.Contains(signs.Nests, n => n.Visitors == Visitors.SignsOfSeveral);
        Assert.All(signs.Nests.Where(n => n.Visitors == Visitors.SignsOfSeveral), n => Assert.Null(n.Confirmed));
        Assert.DoesNotContain(Of(Demo()).Nests, n => n.Visitors == Visitors.SignsOfSeveral);
    }

    [Fact]
    public void Another_season_teaches_half_on_the_same_property_and_a_quarter_elsewhere()
    {
        var (here, other) = (Demo(), Demo(2));
        var seen = LossEvidence.Of(other, Tussock.Fates.SeasonFates.Of(other)).Where(l => l.Evidence.Confirmed == "raccoon").ToArray();
        var both = OtherSeason.Of(other);
        Assert.All(both.Counting(here.Pastures.Select(p => p.Property).ToHashSet(StringComparer.Ordinal)), n => Assert.Equal(NestOfOtherSeason.SameProperty, n.Discount));
        Assert.All(both.Counting(ImmutableHashSet<string>.Empty), n => Assert.Equal(NestOfOtherSeason.Elsewhere, n.Discount));
        var (alone, beside) = (Of(here).Nests[0].Reasons.Before.Of("raccoon"), Of(here, other).Nests[0].Reasons.Before.Of("raccoon"));
        var own = Of(here).Nests.Count(n => n.Confirmed == "raccoon");
        double confirmed = Of(here).Nests.Count(n => n.Confirmed is not null), more = both.Losses.Count(l => l.Evidence.Confirmed is not null);
        Assert.Equal(0.95 * ((5 / 15.0) + own) / (5 + confirmed), alone, 12);
        Assert.Equal(0.95 * ((5 / 15.0) + own + (0.5 * seen.Length)) / (5 + confirmed + (0.5 * more)), beside, 12);
    }

    [Fact]
    public void Cameras_are_counted_by_pasture_and_by_how_they_were_chosen()
    {
        var cameras = Of(Demo()).Cameras;
        Assert.Equal(cameras.Nests, cameras.Pastures.Sum(p => p.WithCamera));
        Assert.Equal(("signs.cameras.drawn", "signs.cameras.none"), (cameras.InWords.Key, (cameras with { Nests = 0 }).InWords.Key));
        Assert.Equal("signs.cameras.not_drawn", (cameras with { Chosen = [("drawn", 3), ("handy", 1), ("after_loss", 0), ("not_written", 0)] }).InWords.Key);
        Assert.All(cameras.Pastures, p => Assert.True(p.Confirmed <= p.LossesWithCamera && p.LossesWithCamera <= p.WithCamera && p.Losses <= p.Nests));
    }
}

using System.Globalization;
using System.Text.Json;
using Tussock.Journal;
using Xunit;

namespace Tussock.Tests.Journal;

public sealed class UuidTests
{
    private static readonly DateTimeOffset Noon = new(2024, 5, 6, 12, 0, 0, TimeSpan.Zero);

    [Fact]
    public void Ids_of_one_moment_grow_one_by_one()
    {
        var ids = new TimeIds(Noon, [255, 255, 255, 255, 255, 255, 255, 255, 255, 255]);
        var list = Enumerable.Range(0, 1000).Select(_ => ids.Next()).ToArray();
        Assert.Equal(list.Order(), list);
        Assert.Equal(1000, list.Distinct().Count());
        Assert.All(list, id => Assert.Equal(7, id.Version));
    }

    [Fact]
    public void A_later_moment_has_the_greater_id() =>
        Assert.True(Uuid.FromTime(Noon, new byte[10]).CompareTo(Uuid.FromTime(Noon.AddMilliseconds(-1), [255, 255, 255, 255, 255, 255, 255, 255, 255, 255])) > 0);

    [Fact]
    public void A_clock_that_is_set_back_makes_no_lower_ids()
    {
        var last = new TimeIds(Noon, [255, 255, 255, 255, 255, 255, 255, 255, 255, 255]).Next();
        Assert.True(new TimeIds(Noon.AddHours(-1), new byte[10], last).Next().CompareTo(last) > 0);
        Assert.Equal(Noon.AddHours(1), Uuid.TimeOf(new TimeIds(Noon.AddHours(1), new byte[10], last).Next()));
    }

    [Fact]
    public void Rows_with_equal_keys_have_different_ids_and_the_same_ones_every_time()
    {
        var season = NaturalKey.SeasonId("north 2024");
        Assert.NotEqual(NaturalKey.Id(season, "visits", "T1", 1), NaturalKey.Id(season, "visits", "T1", 2));
        Assert.NotEqual(NaturalKey.Id(season, "visits", "T1", 1), NaturalKey.Id(season, "remains", "T1", 1));
        Assert.Equal(NaturalKey.Id(season, "visits", "T1", 1), NaturalKey.Id(NaturalKey.SeasonId("north 2024"), "visits", "T1", 1));
    }

    [Fact]
    public void A_long_name_is_hashed_whole() => Assert.NotEqual(Uuid.FromName(Uuid.Seasons, new string('x', 1000)), Uuid.FromName(Uuid.Seasons, new string('x', 999)));
}

public sealed class UuidChecks
{
    private static JsonElement Expected(string source, string what)
    {
        using var json = JsonDocument.Parse(Checks.Read(source, "expected.json"));
        return json.RootElement.GetProperty(what).Clone();
    }

    [Fact]
    public void Version_5_is_that_of_the_standard()
    {
        var v = Expected("rfc-9562", "version5");
        Assert.Equal(v.GetProperty("id").GetGuid(), Uuid.FromName(v.GetProperty("namespace").GetGuid(), v.GetProperty("name").GetString()!));
    }

    [Fact]
    public void Version_7_is_that_of_the_standard()
    {
        var v = Expected("rfc-9562", "version7");
        byte[] chance = [.. Convert.FromHexString(v.GetProperty("rand_a").GetString()!), .. Convert.FromHexString(v.GetProperty("rand_b").GetString()!)];
        Assert.Equal(v.GetProperty("id").GetGuid(), Uuid.FromTime(v.GetProperty("at").GetDateTimeOffset(), chance));
    }

    [Fact]
    public void The_hash_of_a_cell_is_that_of_its_definition()
    {
        using var json = JsonDocument.Parse(Checks.Read("fnv-1a", "expected.json"));
        foreach (var entry in json.RootElement.EnumerateObject()) Assert.Equal(ulong.Parse(entry.Value.GetString()!, CultureInfo.InvariantCulture), RowDigest.Hash(entry.Name));
    }
}

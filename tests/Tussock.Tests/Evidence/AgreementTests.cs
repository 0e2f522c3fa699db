using System.Globalization;
using System.Text.Json;
using FsCheck.Xunit;
using Tussock.Evidence;
using Xunit;

namespace Tussock.Tests.Evidence;

public class KappaChecks
{
    private static int[][] Table(string name) =>
        [.. JsonDocument.Parse(Checks.Read("fleiss-1971", "data.json")).RootElement.GetProperty(name).EnumerateArray().Select(r => r.EnumerateArray().Select(x => x.GetInt32()).ToArray())];

    private static double Printed(string name, string what, out int digits)
    {
        var expected = JsonDocument.Parse(Checks.Read("fleiss-1971", "expected.json")).RootElement.GetProperty(name);
        digits = expected.GetProperty(what + "_digits").GetInt32();
        return expected.GetProperty(what).GetDouble();
    }

    [Theory]
    [InlineData("psychiatrists")]
    [InlineData("fourteen")]
    public void Kappa_of_many_readers_is_as_printed(string name)
    {
        var kappa = FleissKappa.Of(Table(name));
        Assert.Equal(Printed(name, "kappa", out var digits), kappa.Value!.Value, digits);
        Assert.Equal(Printed(name, "z", out digits), kappa.Value!.Value / FleissKappa.NullSe(Table(name)).Value, digits);
        Assert.True(kappa.Low < kappa.Value && kappa.Value < kappa.High);
    }

    [Fact]
    public void The_standard_error_of_guessing_is_as_printed() =>
        Assert.Equal(Printed("fourteen", "null_se", out var digits), FleissKappa.NullSe(Table("fourteen")).Value, digits);

    [Fact]
    public void Kappa_of_two_in_two_classes_with_its_standard_error()
    {
        var kappa = CohenKappa.Of([[20, 5], [10, 15]]);
        Assert.Equal(PublishedValues.Of("kappa.2x2", "kappa for table [20 5;10 15]"), kappa.Value!.Value, 12);
        Assert.Equal(PublishedValues.Of("kappa.2x2", "ASE"), kappa.Se!.Value, 12);
    }

    [Fact]
    public void Kappa_of_two_in_four_classes_with_its_standard_error()
    {
        var rows = File.ReadLines(Path.Combine(Checks.Folder("published-values"), "data", "sexualfun.csv")).Skip(1).Select(l => l.Replace("\"", "", StringComparison.Ordinal).Split(',')).ToArray();
        var names = rows.Select(r => r[0]).Distinct().ToArray();
        int[][] table = [.. names.Select(one => names.Select(two => int.Parse(rows.Single(r => r[0] == one && r[1] == two)[2], CultureInfo.InvariantCulture)).ToArray())];
        Assert.Equal(PublishedValues.Of("kappa.sexualfun", "unweighted"), CohenKappa.Of(table).Value!.Value, 12);
        Assert.Equal(PublishedValues.Of("kappa.sexualfun", "ASE"), CohenKappa.Of(table).Se!.Value, 12);
    }

    [Fact]
    public void Differences_of_shares_are_as_published_where_the_limits_are_Wilson_s()
    {
        static Estimate Share(int k, int n, string to) => new() { Method = to, Value = (double)k / n, Low = PublishedWilson(k, n).Low, High = PublishedWilson(k, n).High };
        var d = ShareDifference.Of(Share(56, 70, "Wilson"), Share(48, 80, "Wilson"));
        Assert.Equal(0.0524, d.Low!.Value, 4);
        Assert.Equal(0.3339, d.High!.Value, 4);
    }

    private static (double Low, double High) PublishedWilson(int k, int n) => Tussock.Survival.Wilson.Limits(k, n);
}

public class KappaTests
{
    [Fact]
    public void Nothing_read_one_class_and_full_agreement_give_a_reason()
    {
        Assert.Equal("signs.kappa.nothing", CohenKappa.Of([[0, 0], [0, 0]]).Why!.Key);
        Assert.Equal("signs.kappa.one_class", CohenKappa.Of([[7, 0], [0, 0]]).Why!.Key);
        Assert.Equal("signs.kappa.nothing", FleissKappa.Of([]).Why!.Key);
        Assert.Equal("signs.kappa.one_class", FleissKappa.Of([[2, 0], [2, 0]]).Why!.Key);
        foreach (var all in new[] { CohenKappa.Of([[3, 0], [0, 4]]), FleissKappa.Of([[2, 0], [0, 2], [2, 0]]) }) Assert.Equal((1.0, 0.0, null, "signs.kappa.all_agree"), (all.Value, all.Se, all.Low, all.Why!.Key));
    }

    [Fact]
    public void One_class_of_the_one_and_two_of_the_other_is_agreement_by_chance()
    {
        var kappa = CohenKappa.Of([[5, 3], [0, 0]]);
        Assert.Equal(0, kappa.Value!.Value, 12);
        Assert.True(FleissKappa.Of([[1, 1], [2, 0]]) is { Value: not null, Low: null, Why.Key: "signs.kappa.few" });
    }

    [Fact]
    public void Rows_with_other_numbers_of_readers_are_refused() => Assert.Throws<ArgumentException>(() => FleissKappa.Of([[2, 0], [1, 0]]));

    [Property]
    public bool Kappa_is_never_a_number_that_is_none(byte a, byte b, byte c, byte d, byte e, byte f, byte g, byte h, byte i)
    {
        var two = CohenKappa.Of([[a % 4, b % 4, c % 4], [d % 4, e % 4, f % 4], [g % 4, h % 4, i % 4]]);
        int[][] pairs = [.. new[] { a, b, c, d, e, f }.Select(x => new[] { new[] { 2, 0, 0 }, [1, 1, 0], [0, 2, 0], [0, 1, 1], [0, 0, 2] }[x % 5])];
        return new[] { two, FleissKappa.Of(pairs) }.All(k => k.Value is { } v ? v is >= -1 and <= 1 && (k.Low is not null || k.Why is not null) : k.Why is not null);
    }

    [Fact]
    public void Observers_are_compared_sign_by_sign_at_the_nests_that_two_read()
    {
        ObservedSign Row(int nest, string who, string sign, string value) => new(nest, who, new(sign, value));
        var agreement = SignAgreement.Of(Remains.Catalogue,
        [
            Row(0, "crew 1", "rooting", "yes"), Row(0, "crew 2", "rooting", "yes"), Row(1, "crew 1", "rooting", "no"), Row(1, "crew 2", "rooting", "yes"), Row(2, "crew 1", "rooting", "no"), Row(2, "crew 3", "rooting", "no"),
            Row(3, "crew 1", "rooting", "no"), Row(4, "", "rooting", "no"), Row(4, "crew 1", "rooting", "no"), Row(0, "crew 1", "edges", "neat"),
            Row(5, "crew 1", "rooting", "no"), Row(5, "crew 1", "rooting", "yes"), Row(5, "crew 2", "rooting", "yes"),
        ]);
        var rooting = Assert.Single(agreement);
        Assert.Equal(("rooting", 3, 2 / 3.0), (rooting.Sign, rooting.Nests, rooting.SharedReading!.Value));
        Assert.Equal(FleissKappa.Of([[2, 0], [1, 1], [0, 2]]).Value!.Value, rooting.Kappa.Value!.Value, 12);
    }
}

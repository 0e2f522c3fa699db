using System.Text.Json;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Numerics;

public sealed class SeededTests
{
    [Fact]
    public void The_same_seed_gives_the_same_numbers_and_another_stream_gives_others()
    {
        Assert.Equal(Numbers(Seeded.Of(7)), Numbers(Seeded.Of(7)));
        Assert.Empty(Numbers(Seeded.Of(7)).Intersect(Numbers(Seeded.Of(7, 1))));
        Assert.Empty(Numbers(Seeded.Of(7, 1)).Intersect(Numbers(Seeded.Of(7, 2))));
    }

    [Fact]
    public void A_state_of_zeros_is_refused() => Assert.Throws<ArgumentException>(() => new Seeded(0, 0, 0, 0));

    [Fact]
    public void Uniform_whole_and_normal_numbers_have_their_moments()
    {
        var chance = Seeded.Of(20);
        const int n = 100_000;
        double sum = 0, normal = 0, square = 0;
        var counts = new int[7];
        for (var i = 0; i < n; i++)
        {
            var u = chance.NextUniform();
            Assert.InRange(u, 0, 1 - 1e-16);
            sum += u;
            counts[chance.NextBelow(7)]++;
            var z = chance.NextNormal();
            normal += z;
            square += z * z;
        }

        Assert.Equal(0.5, sum / n, 0.004);
        Assert.All(counts, c => Assert.Equal(1.0 / 7, (double)c / n, 0.005));
        Assert.Equal(0, normal / n, 0.013);
        Assert.Equal(1, square / n, 0.02);
    }

    private static ulong[] Numbers(Seeded chance) => Enumerable.Range(0, 20).Select(_ => chance.NextBits()).ToArray();
}

/// <summary>Against a second writing of the algorithms.</summary>
public sealed class SeededChecks
{
    private static readonly JsonElement Expected = JsonDocument.Parse(Checks.Read("seeded-generator", "expected.json")).RootElement;

    [Fact]
    public void Xoshiro_gives_the_expected_bits()
    {
        var chance = new Seeded(1, 2, 3, 4);
        Assert.All(Words("xoshiro_of_1_2_3_4"), word => Assert.Equal(word, chance.NextBits()));
    }

    [Fact]
    public void SplitMix_gives_the_expected_bits()
    {
        ulong state = 1234567;
        Assert.All(Words("splitmix_of_1234567"), word => Assert.Equal(word, Seeded.SplitMix(ref state)));
    }

    private static ulong[] Words(string name) => [.. Expected.GetProperty(name).EnumerateArray().Select(w => ulong.Parse(w.GetString()!))];
}

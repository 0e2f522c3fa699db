using System.Globalization;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Numerics;

public class RadicalInverseTests
{
    [Fact]
    public void The_first_points_of_the_bases_2_and_3()
    {
        var rows = Checks.Read("published-values", Path.Combine("data", "halton_first36.csv")).Split('\n', StringSplitOptions.RemoveEmptyEntries).Skip(1).Select(l => l.Split(',').Select(c => double.Parse(c, CultureInfo.InvariantCulture)).ToArray()).ToArray();
        Assert.True(rows.Length >= 36);
        Assert.All(rows, r =>
        {
            Assert.Equal(r[1], RadicalInverse.Of((int)r[0], 2), 1e-14);
            Assert.Equal(r[2], RadicalInverse.Of((int)r[0], 3), 1e-14);
        });
    }

    [Fact]
    public void What_has_no_digits_is_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => RadicalInverse.Of(-1, 2));
        Assert.Throws<ArgumentOutOfRangeException>(() => RadicalInverse.Of(1, 1));
    }
}

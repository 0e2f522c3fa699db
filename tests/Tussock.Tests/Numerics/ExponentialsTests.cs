using FsCheck.Xunit;
using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Numerics;

public class ExponentialsTests
{
    [Theory]
    [InlineData(1e-300)]
    [InlineData(-1e-17)]
    [InlineData(1e-10)]
    [InlineData(-1e-6)]
    [InlineData(3e-4)]
    public void Near_0_the_series_is_met_to_the_last_digits(double x)
    {
        Near.Is(x * (1 + x / 2 * (1 + x / 3 * (1 + x / 4 * (1 + x / 5)))), Exponentials.Expm1(x), 1e-15);
        Near.Is(x * (1 - x * (1 / 2.0 - x * (1 / 3.0 - x * (1 / 4.0 - x / 5)))), Exponentials.Log1p(x), 1e-15);
    }

    [Fact]
    public void Ends_are_exact()
    {
        Assert.Equal((0, -1, double.PositiveInfinity), (Exponentials.Expm1(0), Exponentials.Expm1(double.NegativeInfinity), Exponentials.Expm1(1e4)));
        Assert.Equal((0, double.NegativeInfinity, double.PositiveInfinity), (Exponentials.Log1p(0), Exponentials.Log1p(-1), Exponentials.Log1p(double.PositiveInfinity)));
        Assert.Equal((0, 0.5, 1), (Exponentials.Expit(-1e4), Exponentials.Expit(0), Exponentials.Expit(1e4)));
    }

    [Property]
    public void They_undo_each_other(ushort at)
    {
        var x = (at - 32768) / 3000.0;
        Near.Is(x, Exponentials.Log1p(Exponentials.Expm1(x)), 1e-11, 1e-3);
        Near.Is(x, Exponentials.Logit(Exponentials.Expit(x)), 1e-10, 1e-3);
    }
}

using Xunit;

namespace Tussock.Tests;

/// <summary>Comparison by relative digits: what a check's tolerance means everywhere.</summary>
public static class Near
{
    /// <summary>Asserts that two numbers agree within a relative tolerance, counting from 1 below <paramref name="floor"/>; NaN and infinities agree with nothing.</summary>
    public static void Is(double expected, double? actual, double tolerance, double floor = 0) =>
        Assert.True(Agree(expected, actual, tolerance, floor), $"expected {expected:R}, found {actual:R}, relative tolerance {tolerance:R}");

    /// <summary>Whether two numbers agree within a relative tolerance.</summary>
    public static bool Agree(double expected, double? actual, double tolerance, double floor = 0) =>
        actual is { } found && double.IsFinite(expected) && double.IsFinite(found) && Math.Abs(found - expected) <= tolerance * Math.Max(Math.Abs(expected), floor);
}

public class NearTests
{
    [Theory]
    [InlineData(double.NaN, 1)]
    [InlineData(1, double.NaN)]
    [InlineData(double.NaN, double.NaN)]
    [InlineData(double.PositiveInfinity, double.PositiveInfinity)]
    [InlineData(double.NegativeInfinity, double.NegativeInfinity)]
    [InlineData(1, double.PositiveInfinity)]
    [InlineData(1, double.NegativeInfinity)]
    [InlineData(double.PositiveInfinity, 1)]
    [InlineData(double.NegativeInfinity, 1)]
    [InlineData(double.PositiveInfinity, double.NegativeInfinity)]
    [InlineData(double.NaN, double.PositiveInfinity)]
    public void What_is_no_number_agrees_with_nothing(double expected, double actual)
    {
        Assert.False(Near.Agree(expected, actual, 1e9));
        Assert.False(Near.Agree(expected, actual, double.PositiveInfinity, floor: 1));
        Assert.ThrowsAny<Exception>(() => Near.Is(expected, actual, 1e9));
    }

    [Fact]
    public void Digits_are_relative_and_a_missing_number_does_not_agree()
    {
        Assert.True(Near.Agree(1e-20, 1.0000001e-20, 1e-6));
        Assert.False(Near.Agree(1e-20, 1.1e-20, 1e-6));
        Assert.True(Near.Agree(0, 1e-12, 1e-6, floor: 1));
        Assert.False(Near.Agree(0, null, 1e-6));
    }
}

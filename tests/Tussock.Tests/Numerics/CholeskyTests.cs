using Tussock.Numerics;
using Xunit;

namespace Tussock.Tests.Numerics;

public class CholeskyTests
{
    [Fact]
    public void A_matrix_times_its_inverse_is_the_unit_matrix()
    {
        double[] a = [4, 2, 0.6, 2, 5, 1, 0.6, 1, 3];
        var l = (double[])a.Clone();
        Assert.True(Cholesky.Factor(l, 3));
        var inverse = Cholesky.Inverse(l, 3);
        for (var i = 0; i < 3; i++) for (var j = 0; j < 3; j++) Near.Is(i == j ? 1 : 0, Enumerable.Range(0, 3).Sum(k => a[i * 3 + k] * inverse[k * 3 + j]), 1e-14, floor: 1);
        double[] x = [1, 2, 3];
        Cholesky.Solve(l, 3, x);
        for (var i = 0; i < 3; i++) Near.Is(i + 1, Enumerable.Range(0, 3).Sum(k => a[i * 3 + k] * x[k]), 1e-14);
    }

    [Fact]
    public void What_is_not_positive_definite_is_refused()
    {
        Assert.False(Cholesky.Factor([1, 2, 2, 1], 2));
        Assert.False(Cholesky.Factor([0], 1));
        Assert.False(Cholesky.Factor([double.NaN], 1));
        Assert.True(Cholesky.Factor([], 0));
    }
}

public class LinearDependenceTests
{
    [Fact]
    public void Later_columns_that_are_combinations_are_tied_with_their_weights()
    {
        double[][] columns = [[1, 1, 1, 1], [1, 2, 3, 5], [3, 4, 5, 7], [0, 0, 0, 0], [1, 0, 1, 0], [2, 2, 4, 5]];
        var gram = new double[36];
        for (var i = 0; i < 6; i++) for (var j = 0; j < 6; j++) gram[i * 6 + j] = columns[i].Zip(columns[j], (a, b) => a * b).Sum();
        var dependence = LinearDependence.Of(gram, 6);
        Assert.Equal([0, 1, 4], dependence.Free);
        Assert.Equal([2, 3, 5], dependence.Tied);
        for (var t = 0; t < 3; t++)
            for (var row = 0; row < 4; row++) Near.Is(columns[dependence.Tied[t]][row], dependence.Free.Select((f, i) => columns[f][row] * dependence.Weights[t][i]).Sum(), 1e-9, floor: 1);
    }
}

public class WeightedSumsTests
{
    [Theory]
    [InlineData(0)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(13)]
    [InlineData(40)]
    public void Every_length_is_summed_to_its_end(int n)
    {
        double[] a = [.. Enumerable.Range(1, n).Select(i => i * 0.5)], b = [.. Enumerable.Range(1, n).Select(i => 1.0 / i)], w = [.. Enumerable.Range(1, n).Select(i => (double)i)];
        Near.Is(n * 0.5, WeightedSums.Of(a, b), 1e-14);
        Near.Is(n * (n + 1) / 4.0, WeightedSums.Of(w, a, b), 1e-14);
        WeightedSums.Add(a, 2, b);
        for (var i = 0; i < n; i++) Near.Is((i + 1) * 0.5 + 2.0 / (i + 1), a[i], 1e-15);
    }
}

namespace Tussock.Numerics;

/// <summary>Polynomial interpolation (Lagrange) among equally spaced nodes 0, 1, …, n − 1, as weights that serve any number of tables.</summary>
public sealed class Interpolation
{
    private readonly double[] scale;

    /// <summary>The rule for <paramref name="nodes"/> nodes, 2 to 20.</summary>
    public Interpolation(int nodes)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(nodes, 2);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(nodes, 20);
        scale = new double[nodes];
        for (var j = 0; j < nodes; j++)
        {
            var product = 1.0;
            for (var i = 0; i < nodes; i++) if (i != j) product *= j - i;
            scale[j] = 1 / product;
        }
    }

    /// <summary>Number of nodes.</summary>
    public int Nodes => scale.Length;

    /// <summary>Adds <paramref name="factor"/> times the weights of the polynomial's value at x.</summary>
    /// <param name="x">Place in units of the spacing, 0 = first node; best in the middle third.</param>
    /// <param name="factor">Multiplies every weight.</param>
    /// <param name="weights">Receives the weights, one a node.</param>
    public void Add(double x, double factor, Span<double> weights)
    {
        Span<double> left = stackalloc double[scale.Length];
        var product = factor;
        for (var j = 0; j < left.Length; j++)
        {
            left[j] = product * scale[j];
            product *= x - j;
        }

        product = 1;
        for (var j = left.Length - 1; j >= 0; j--)
        {
            weights[j] += left[j] * product;
            product *= x - j;
        }
    }
}

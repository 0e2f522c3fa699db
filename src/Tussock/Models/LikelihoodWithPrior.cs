namespace Tussock.Models;

/// <summary>A log-likelihood with a weakly informative normal prior on the coefficients: standard deviation 2.5 for a change of one standard deviation of the effect.</summary>
internal sealed class LikelihoodWithPrior(ILikelihood likelihood, double[] scales) : ILikelihood
{
    private const double Sd = 2.5;

    /// <inheritdoc/>
    public int Coefficients => likelihood.Coefficients;

    /// <inheritdoc/>
    public int Size => likelihood.Size;

    /// <summary>The logarithm of the prior's density without its constant.</summary>
    public double LogPrior(ReadOnlySpan<double> parameters)
    {
        var sum = 0.0;
        for (var i = 0; i < Coefficients; i++) sum -= Precision(i) * parameters[i] * parameters[i] / 2;
        return sum;
    }

    /// <inheritdoc/>
    public void At(ReadOnlySpan<double> parameters, Derivatives into)
    {
        likelihood.At(parameters, into);
        into.Value += LogPrior(parameters);
        for (var i = 0; i < Coefficients; i++)
        {
            into.Gradient[i] -= Precision(i) * parameters[i];
            into.Second[i * Size + i] -= Precision(i);
        }
    }

    /// <inheritdoc/>
    public double[] StartingSpreads() => likelihood.StartingSpreads();

    /// <inheritdoc/>
    public (double Mode, double Sd)[] Modes(ReadOnlySpan<double> parameters) => likelihood.Modes(parameters);

    private double Precision(int i) => scales[i] * scales[i] / (Sd * Sd);
}

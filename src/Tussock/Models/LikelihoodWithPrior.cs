namespace Tussock.Models;

/// <summary>A log-likelihood with a normal prior, of mean 0 and given precisions, on the coefficients.</summary>
internal sealed class LikelihoodWithPrior(ILikelihood likelihood, double[] precision) : ILikelihood
{
    /// <inheritdoc/>
    public int Coefficients => likelihood.Coefficients;

    /// <inheritdoc/>
    public int Size => likelihood.Size;

    /// <summary>The logarithm of the prior's density without its constant.</summary>
    public double LogPrior(ReadOnlySpan<double> parameters)
    {
        var sum = 0.0;
        for (var i = 0; i < Coefficients; i++) sum -= precision[i] * parameters[i] * parameters[i] / 2;
        return sum;
    }

    /// <inheritdoc/>
    public void At(ReadOnlySpan<double> parameters, Derivatives into)
    {
        likelihood.At(parameters, into);
        into.Value += LogPrior(parameters);
        for (var i = 0; i < Coefficients; i++)
        {
            into.Gradient[i] -= precision[i] * parameters[i];
            into.Second[i * Size + i] -= precision[i];
        }
    }

    /// <inheritdoc/>
    public double[] StartingSpreads() => likelihood.StartingSpreads();

    /// <inheritdoc/>
    public (double Mode, double Sd)[] Modes(ReadOnlySpan<double> parameters) => likelihood.Modes(parameters);
}

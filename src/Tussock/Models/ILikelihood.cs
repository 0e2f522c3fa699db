namespace Tussock.Models;

/// <summary>A log-likelihood of coefficients β followed by standard deviations σ ≥ 0 of random intercepts.</summary>
internal interface ILikelihood
{
    /// <summary>Number of coefficients; what follows are standard deviations.</summary>
    int Coefficients { get; }

    /// <summary>Number of parameters.</summary>
    int Size { get; }

    /// <summary>Value, gradient and second derivatives (lower triangle) at a point.</summary>
    void At(ReadOnlySpan<double> parameters, Derivatives into);

    /// <summary>Standard deviations to start from, by moments of the groups' scores where all were 0 last.</summary>
    double[] StartingSpreads();

    /// <summary>Modes of the table's groups and their conditional standard deviations, on the scale of the link, at a point.</summary>
    (double Mode, double Sd)[] Modes(ReadOnlySpan<double> parameters);
}

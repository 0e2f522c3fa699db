namespace Tussock.Models;

/// <summary>Akaike's criterion for few rows, by which models of the same rows are compared.</summary>
public static class InformationCriterion
{
    /// <summary>AICc = −2ℓ + 2K + 2K(K + 1)/(n − K − 1).</summary>
    /// <param name="logLikelihood">ℓ at the maximum.</param>
    /// <param name="parameters">K ≥ 0.</param>
    /// <param name="rows">n, visit intervals or nests.</param>
    /// <returns>The criterion, smaller is better; a reason when n ≤ K + 1.</returns>
    /// <source>Burnham and Anderson 2002, Model Selection and Multimodel Inference, 2nd ed., section 2.4; from memory, to be confirmed</source>
    /// <check>reference-seasons</check>
    public static Answer<double> Aicc(double logLikelihood, int parameters, int rows) => rows <= parameters + 1
        ? NoAnswer.Because("models.no_aicc", ("rows", rows), ("parameters", parameters))
        : -2 * logLikelihood + 2 * parameters + 2.0 * parameters * (parameters + 1) / (rows - parameters - 1);
}

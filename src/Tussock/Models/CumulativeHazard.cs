namespace Tussock.Models;

/// <summary>Cumulative hazard of a course of days, with its slope by the effects: what every prediction is made of.</summary>
/// <param name="Log">log H; −∞ for no days.</param>
/// <param name="LogSlope">∂log H/∂β, length k.</param>
internal readonly record struct CumulativeHazard(double Log, double[] LogSlope)
{
    /// <summary>H.</summary>
    public double H => Math.Exp(Log);

    /// <summary>∂S/∂β = −S·H·∂log H/∂β of S = e^(−H).</summary>
    public double SurvivalSlope(int j) => -Math.Exp(Log - H) * LogSlope[j];

    /// <summary>H of the given pieces.</summary>
    public static CumulativeHazard Of(FittedEffects effects, IReadOnlyList<PatternDays> pieces)
    {
        var k = effects.Beta.Length;
        var log = double.NegativeInfinity;
        var logs = new double[pieces.Count];
        var ratios = new double[pieces.Count];
        for (var i = 0; i < logs.Length; i++)
        {
            var eta = pieces[i].Offset;
            for (var j = 0; j < k; j++) eta += pieces[i].X[j] * effects.Beta[j];
            (logs[i], ratios[i]) = At(effects.Link, eta);
            logs[i] += Math.Log(pieces[i].Days);
            log = Math.Max(log, logs[i]);
        }

        if (double.IsNegativeInfinity(log)) return new CumulativeHazard(log, new double[k]);
        log += Math.Log(logs.Sum(l => Math.Exp(l - log)));
        var slope = new double[k];
        for (var i = 0; i < logs.Length; i++) for (var j = 0; j < k; j++) slope[j] += Math.Exp(logs[i] - log) * ratios[i] * pieces[i].X[j];
        return new CumulativeHazard(log, slope);
    }

    /// <summary>log h and h′/h.</summary>
    private static (double Log, double Ratio) At(Link link, double eta)
    {
        if (link == Link.LogHazard) return (eta, 1);
        if (eta > 40) return (-eta, -1);
        var hazard = DailyHazard.At(link, eta);
        return (Math.Log(hazard.H), hazard.First / hazard.H);
    }
}

namespace Tussock.Models;

/// <summary>The log-likelihood of each group of a table as a function of coefficients and of a shift of the group's linear predictors.</summary>
/// <remarks>
/// <see cref="Place"/> comes first for a group, once a change of coefficients; then any shift may be asked for. Groups write only their own places,
/// so different groups may be worked on by different threads. A loss over a cumulative hazard H is computed from a = H/(e^H − 1) and from derivatives of H
/// divided by H, all of which stay near 1 where H is very small.
/// </remarks>
internal abstract class GroupLikelihood(ModelTable table)
{
    /// <summary>A cumulative hazard is taken to be at least this: its logarithm stays finite.</summary>
    protected const double Least = 1e-300;

    /// <summary>The table.</summary>
    public ModelTable Table { get; } = table;

    /// <summary>Linear predictors without the group's shift, as last placed.</summary>
    protected double[] Eta { get; } = new double[table.Patterns];

    /// <summary>The likelihood under a link.</summary>
    public static GroupLikelihood Of(ModelTable table, Link link) => link == Link.LogHazard ? new LogHazardGroups(table) : new DailyLogitGroups(table);

    /// <summary>Prepares one group at coefficients β.</summary>
    public virtual void Place(int group, ReadOnlySpan<double> beta)
    {
        for (var p = Table.GroupPatterns[group]; p < Table.GroupPatterns[group + 1]; p++)
        {
            var sum = Table.Offset[p];
            var x = Table.Row(p);
            for (var i = 0; i < x.Length; i++) sum += x[i] * beta[i];
            Eta[p] = sum;
        }
    }

    /// <summary>First and second derivative by the shift.</summary>
    public abstract (double First, double Second) Slopes(int group, double shift);

    /// <summary>Value and derivatives at a shift; third and fourth ones only when asked for.</summary>
    public abstract void At(int group, double shift, GroupDerivatives into, bool higher);

    /// <summary>Adds log(1 − e^(−H)) to a product that is turned into a logarithm only when it becomes small: one logarithm for many losses.</summary>
    protected static void Multiply(ref double product, ref double logs, double a, double hazard, double weight)
    {
        var lost = hazard / (a + hazard);
        if (weight != 1 || lost < 1e-100)
        {
            logs += weight * Math.Log(lost);
            return;
        }

        product *= lost;
        if (product > 1e-200) return;
        logs += Math.Log(product);
        product = 1;
    }
}

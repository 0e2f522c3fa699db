namespace Tussock.Survival;

/// <summary>
/// The masses θ on k places that maximise Σ w·log P over rows, where P is the sum of θ over the row's run of places: the kernel of the curve and of its band.
/// </summary>
/// <remarks>
/// <para>
/// With n = Σw the multiplier of Σθ = 1 is n, so the maximum of φ(θ) = Σ(w/n)·log P − Σθ over θ ≥ 0 is the one sought, and
/// g_j = Σ(w/n)/P over the rows that hold j is the reduced gradient: g ≤ 1 everywhere and g = 1 where θ > 0 (Kuhn–Tucker).
/// Each step adds to the support, in every gap between its members, the place with the greatest g above 1; maximises the second-order model of φ,
/// −½xᵀHx + (2g − 1)ᵀx with H = Σ(w/n)/P²·(row)(row)ᵀ, over x ≥ 0; and searches along the line from θ to x (Armijo).
/// Members that the model sets to 0 leave. All sums over runs are differences of running sums: a step costs rows + places.
/// </para>
/// <para>
/// Rows of weight 0 are absent. Places that no present end parts any longer are one place; its mass is shared evenly among them, which
/// is where expectation–maximisation from equal masses ends, because it multiplies equal columns by equal factors.
/// One object serves many weightings, one at a time.
/// </para>
/// </remarks>
internal sealed class ConstrainedNewton(int[] from, int[] to, int places)
{
    private const int MostSteps = 500, WarmingSteps = 5;
    private const double ResidualBound = 1e-10, StepBound = 1e-11, Above = 1 + 1e-12;

    // Steps that are taken whole: so short that what they gain is lost in rounding, or changing every row's chance by so small a part that
    // log(1 + c) = c - c^2/2 to a thousandth, where the model's maximum is sure to raise the likelihood.
    private const double RoundingStep = 1e-9, SmallChange = 1e-3;

    // Rows and joined places of the present weighting; theta, gradient and mass by joined place.
    private readonly int[] low = new int[from.Length], high = new int[from.Length];
    private readonly double[] share = new double[from.Length], chance = new double[from.Length], change = new double[from.Length], curvature = new double[from.Length];
    private readonly int[] first = new int[places], after = new int[places], support = new int[places], position = new int[places + 1];
    private readonly double[] theta = new double[places], gradient = new double[places], running = new double[places + 1], target = new double[places];
    private readonly double[] lean = new double[places], current = new double[places];
    private readonly int[] supportLow = new int[from.Length], supportHigh = new int[from.Length];
    private readonly NonnegativeQuadratic quadratic = new();
    private int rows, joined;

    /// <summary>Mass of each place after the last call.</summary>
    internal double[] Mass { get; } = new double[places];

    /// <summary>Σ w·log P after the last call.</summary>
    internal double LogLikelihood { get; private set; }

    /// <summary>First place of each group of places that the last weighting doesn't part.</summary>
    internal ReadOnlySpan<int> GroupFirst => first.AsSpan(0, joined);

    /// <summary>Place after the last one of each group.</summary>
    internal ReadOnlySpan<int> GroupAfter => after.AsSpan(0, joined);

    /// <summary>Mass of each group.</summary>
    internal ReadOnlySpan<double> GroupMass => theta.AsSpan(0, joined);

    /// <summary>Finds the masses.</summary>
    /// <param name="weights">Weight of each row, 0 or more, one at least above 0; rows sorted by their last place.</param>
    /// <param name="start">Masses to start near, by place; empty for none.</param>
    internal CurveDiary Maximise(ReadOnlySpan<double> weights, ReadOnlySpan<double> start)
    {
        var total = Present(weights);
        Begin(start);
        var diary = Climb();
        LogLikelihood = 0;
        for (var i = 0; i < rows; i++) LogLikelihood += total * share[i] * Math.Log(chance[i]);
        for (var u = 0; u < joined; u++) Mass.AsSpan(first[u], after[u] - first[u]).Fill(theta[u] / (after[u] - first[u]));
        return diary;
    }

    private CurveDiary Climb()
    {
        var lastStep = double.PositiveInfinity;
        for (var step = 0; ; step++)
        {
            var residual = Gradient();
            if (residual <= ResidualBound && lastStep <= StepBound) return new(step, residual, lastStep, CurveStop.KuhnTucker);
            if (step == MostSteps) return new(step, residual, lastStep, CurveStop.StepsRanOut);
            lastStep = Step(residual);
            if (lastStep == 0 && residual > ResidualBound) return new(step, residual, lastStep, CurveStop.NoFurtherAscent);
        }
    }

    /// <summary>Takes in a weighting: drops absent rows and joins places that no present end parts.</summary>
    private double Present(ReadOnlySpan<double> weights)
    {
        Array.Clear(Mass);
        double total = 0;
        rows = 0;
        var (opens, closes) = (position, support);
        Array.Clear(opens);
        Array.Clear(closes);
        for (var i = 0; i < from.Length; i++)
        {
            if (weights[i] <= 0) continue;
            (low[rows], high[rows], share[rows]) = (from[i], to[i], weights[i]);
            rows++;
            total += weights[i];
            opens[from[i]] = 1;
            closes[to[i] - 1] = 1;
        }

        joined = 0;
        for (int j = 0, open = -1; j < places; j++)
        {
            if (opens[j] != 0) open = j;
            if (closes[j] == 0 || open < 0) continue;
            (first[joined], after[joined]) = (open, j + 1);
            joined++;
            open = -1;
        }

        Renumber();
        for (var i = 0; i < rows; i++) share[i] /= total;
        return total;
    }

    private void Renumber()
    {
        for (int j = 0, group = 0; j <= places; j++)
        {
            while (group < joined && first[group] < j) group++;
            position[j] = group;
        }

        for (var i = 0; i < rows; i++) low[i] = position[low[i]];
        for (int j = 0, group = 0; j <= places; j++)
        {
            while (group < joined && after[group] <= j) group++;
            position[j] = group;
        }

        for (var i = 0; i < rows; i++) high[i] = position[high[i]];
    }

    /// <summary>Starts from the fewest places that give every row a chance (rows come by their last place), and from <paramref name="start"/>; warms up by expectation–maximisation.</summary>
    private void Begin(ReadOnlySpan<double> start)
    {
        Array.Clear(theta, 0, joined);
        var reached = -1;
        for (var i = 0; i < rows; i++)
        {
            if (low[i] <= reached) continue;
            reached = high[i] - 1;
            theta[reached] = 1;
        }

        Normalise();
        if (!start.IsEmpty)
        {
            for (var u = 0; u < joined; u++)
            {
                theta[u] *= 0.01;
                foreach (var mass in start[first[u]..after[u]]) theta[u] += mass;
            }

            Normalise();
        }

        for (var step = 0; step < WarmingSteps; step++)
        {
            Gradient();
            for (var j = 0; j < joined; j++) theta[j] *= gradient[j];
        }
    }

    private void Normalise()
    {
        double sum = 0;
        for (var j = 0; j < joined; j++) sum += theta[j];
        for (var j = 0; j < joined; j++) theta[j] /= sum;
    }

    /// <summary>Chances of rows and reduced gradient at θ; gives the Kuhn–Tucker residual. A run of one place takes its mass itself, free of cancellation.</summary>
    private double Gradient()
    {
        for (var j = 0; j < joined; j++) running[j + 1] = running[j] + theta[j];
        for (var i = 0; i < rows; i++) chance[i] = high[i] - low[i] == 1 ? theta[low[i]] : running[high[i]] - running[low[i]];
        Array.Clear(gradient);
        var steps = target;
        Array.Clear(steps);
        for (var i = 0; i < rows; i++)
        {
            var pull = share[i] / chance[i];
            if (high[i] - low[i] == 1)
            {
                gradient[low[i]] += pull;
                continue;
            }

            steps[low[i]] += pull;
            if (high[i] < joined) steps[high[i]] -= pull;
        }

        double sum = 0, greatest = 0;
        for (var j = 0; j < joined; j++)
        {
            sum += steps[j];
            gradient[j] += sum;
            greatest = Math.Max(greatest, gradient[j]);
        }

        return greatest - 1;
    }

    /// <summary>One Newton step; gives the greatest change of a mass, 0 when no step raises the likelihood.</summary>
    private double Step(double residual)
    {
        var size = Support();
        for (var i = 0; i < rows; i++)
        {
            (supportLow[i], supportHigh[i]) = (position[low[i]], position[high[i]]);
            curvature[i] = share[i] / (chance[i] * chance[i]);
        }

        for (var s = 0; s < size; s++) (lean[s], current[s]) = ((2 * gradient[support[s]]) - 1, theta[support[s]]);
        var model = new RunQuadratic(supportLow.AsSpan(0, rows), supportHigh.AsSpan(0, rows), curvature.AsSpan(0, rows), lean.AsSpan(0, size));
        quadratic.Minimise(model, current.AsSpan(0, size), target.AsSpan(0, size), Math.Clamp(residual * 1e-2, 1e-13, 1e-3));
        return Move(size);
    }

    private int Support()
    {
        int size = 0, best = -1;
        for (var j = 0; j < joined; j++)
        {
            if (theta[j] <= 0)
            {
                if (gradient[j] > Above && (best < 0 || gradient[j] > gradient[best])) best = j;
                continue;
            }

            if (best >= 0) support[size++] = best;
            support[size++] = j;
            best = -1;
        }

        if (best >= 0) support[size++] = best;
        for (int j = 0, s = 0; j <= joined; j++)
        {
            position[j] = s;
            if (s < size && support[s] == j) s++;
        }

        return size;
    }

    private double Move(int size)
    {
        double slope = 0, sum = 0, widest = 0, greatest = 0;
        running[0] = 0;
        for (var s = 0; s < size; s++)
        {
            slope += (target[s] - current[s]) * (gradient[support[s]] - 1);
            widest = Math.Max(widest, Math.Abs(target[s] - current[s]));
            running[s + 1] = running[s] + target[s];
        }

        sum = running[size] - 1;
        for (var i = 0; i < rows; i++)
        {
            var (a, b) = (supportLow[i], supportHigh[i]);
            change[i] = ((b - a == 1 ? target[a] : running[b] - running[a]) / chance[i]) - 1;
            greatest = Math.Max(greatest, Math.Abs(change[i]));
        }

        var length = widest < RoundingStep || greatest < SmallChange ? 1 : Length(slope, sum);
        for (var s = 0; s < size; s++) theta[support[s]] = length == 1 ? target[s] : current[s] + (length * (target[s] - current[s]));
        Normalise();
        running[0] = 0;
        return length * widest;
    }

    /// <summary>Halves the step until φ rises by a fair part of what its slope promises.</summary>
    private double Length(double slope, double sum)
    {
        for (var length = 1.0; length > 1e-12; length /= 2)
        {
            var gain = -length * sum;
            for (var i = 0; i < rows; i++) gain += share[i] * double.LogP1(length * change[i]);
            if (gain >= 1e-4 * length * slope) return length;
        }

        return 0;
    }
}

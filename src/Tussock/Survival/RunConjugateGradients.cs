namespace Tussock.Survival;

/// <summary>Solves a <see cref="RunQuadratic"/> on its free places by conjugate gradients scaled by the diagonal: for hundreds of places and more, where a matrix would be too large.</summary>
internal sealed class RunConjugateGradients
{
    private double[] diagonal = [], residual = [], direction = [], image = [], running = [], steps = [];
    private double tolerance;

    /// <summary>Prepares the scaling, the diagonal of H.</summary>
    internal void Prepare(RunQuadratic model, double relativeTolerance)
    {
        tolerance = relativeTolerance;
        var n = model.Size;
        if (diagonal.Length < n) (diagonal, residual, direction, image, running, steps) = (new double[n], new double[n], new double[n], new double[n], new double[n + 1], new double[n + 1]);
        Array.Clear(steps);
        for (var i = 0; i < model.Low.Length; i++)
        {
            steps[model.Low[i]] += model.Weight[i];
            steps[model.High[i]] -= model.Weight[i];
        }

        double sum = 0;
        for (var s = 0; s < n; s++) diagonal[s] = sum += steps[s];
    }

    /// <summary>The minimum over the free places, 0 elsewhere; begins at <paramref name="x"/>.</summary>
    internal void Solve(RunQuadratic model, ReadOnlySpan<int> free, Span<double> x)
    {
        Array.Clear(direction);
        foreach (var s in free) direction[s] = x[s];
        direction.AsSpan(0, x.Length).CopyTo(x);
        Product(model, x);
        double scale = 0, product = 0;
        Array.Clear(direction);
        foreach (var s in free)
        {
            residual[s] = model.Lean[s] - image[s];
            direction[s] = residual[s] / diagonal[s];
            product += residual[s] * direction[s];
            scale += model.Lean[s] * model.Lean[s] / diagonal[s];
        }

        for (var step = 0; step < 2 * free.Length && product > tolerance * tolerance * scale; step++) product = Improve(model, free, x, product);
    }

    private double Improve(RunQuadratic model, ReadOnlySpan<int> free, Span<double> x, double product)
    {
        Product(model, direction);
        double along = 0, next = 0;
        foreach (var s in free) along += direction[s] * image[s];
        var length = product / along;
        foreach (var s in free)
        {
            x[s] += length * direction[s];
            residual[s] -= length * image[s];
            next += residual[s] * residual[s] / diagonal[s];
        }

        foreach (var s in free) direction[s] = (residual[s] / diagonal[s]) + (next / product * direction[s]);
        return next;
    }

    /// <summary>H·v by running sums; a row of one place takes its value itself, free of cancellation.</summary>
    private void Product(RunQuadratic model, ReadOnlySpan<double> v)
    {
        for (var s = 0; s < model.Size; s++) running[s + 1] = running[s] + v[s];
        Array.Clear(image);
        Array.Clear(steps);
        for (var i = 0; i < model.Low.Length; i++)
        {
            var (a, b) = (model.Low[i], model.High[i]);
            if (b - a == 1)
            {
                image[a] += model.Weight[i] * v[a];
                continue;
            }

            var pull = model.Weight[i] * (running[b] - running[a]);
            steps[a] += pull;
            steps[b] -= pull;
        }

        double sum = 0;
        for (var s = 0; s < model.Size; s++) image[s] += sum += steps[s];
    }
}

using Tussock.Numerics;

namespace Tussock.Models;

/// <summary>The log-likelihood of (β, σ) with one random intercept a group, by adaptive Gauss–Hermite quadrature.</summary>
/// <remarks>
/// Groups are worked on in pieces whose borders depend on the table alone, and pieces are added up in order: the same bits at any number of threads.
/// A table of one piece starts no other thread. Modes stay from one call to the next. Belongs to one thread at a time.
/// </remarks>
internal sealed class MarginalLikelihood : ILikelihood
{
    /// <summary>Patterns a piece, and the largest number of pieces.</summary>
    private const int PiecePatterns = 1200, MostPieces = 64;

    private readonly GroupLikelihood likelihood;
    private readonly Piece[] pieces;
    private readonly double[] modes, curvatures;

    public MarginalLikelihood(ModelTable table, Link link, int nodes)
    {
        likelihood = GroupLikelihood.Of(table, link);
        Coefficients = table.Width;
        (modes, curvatures) = (new double[table.Groups], new double[table.Groups]);
        Array.Fill(curvatures, 1);
        var rule = GaussHermite.Of(nodes);
        var most = Math.Max(PiecePatterns, table.Patterns / MostPieces);
        var list = new List<Piece>();
        for (int from = 0, to = 0; from < table.Groups; from = to)
        {
            while (to < table.Groups && (to == from || table.GroupPatterns[to + 1] - table.GroupPatterns[from] <= most)) to++;
            list.Add(new Piece(from, to, new AdaptiveGaussHermite(likelihood, rule), new Derivatives(Size), new GroupDerivatives(Coefficients)));
        }

        pieces = [.. list];
    }

    /// <inheritdoc/>
    public int Coefficients { get; }

    /// <inheritdoc/>
    public int Size => Coefficients + 1;

    /// <inheritdoc/>
    public void At(ReadOnlySpan<double> parameters, Derivatives into)
    {
        var point = parameters.ToArray();
        if (pieces.Length == 1) Evaluate(pieces[0], point);
        else Ordered.For(pieces.Length, p => Evaluate(pieces[p], point));
        into.Clear();
        foreach (var piece in pieces) into.Add(piece.Sum);
    }

    /// <inheritdoc/>
    public double[] StartingSpreads()
    {
        double excess = 0, squares = 0;
        foreach (var piece in pieces) (excess, squares) = (excess + piece.Excess, squares + piece.InformationSquares);
        return [Math.Clamp(Math.Sqrt(Math.Max(excess, 0) / Math.Max(squares, 1e-300)), 0.25, 1.5)];
    }

    /// <inheritdoc/>
    public (double Mode, double Sd)[] Modes(ReadOnlySpan<double> parameters)
    {
        At(parameters, new Derivatives(Size));
        var sigma = parameters[^1];
        return [.. modes.Select((z, g) => (sigma * z, sigma / Math.Sqrt(curvatures[g])))];
    }

    private void Evaluate(Piece piece, double[] point)
    {
        piece.Sum.Clear();
        var beta = point.AsSpan(0, Coefficients);
        if (point[^1] == 0)
        {
            WithoutSpread(piece, beta);
            return;
        }

        for (var g = piece.From; g < piece.To; g++) curvatures[g] = piece.Quadrature.Add(g, beta, point[^1], ref modes[g], piece.Sum);
    }

    /// <summary>At σ = 0 the groups' shift is 0; the second derivative by σ is Σ(S1² + S2), the score test's.</summary>
    private void WithoutSpread(Piece piece, ReadOnlySpan<double> beta)
    {
        var (sum, d) = (piece.Sum, piece.Room);
        (piece.Excess, piece.InformationSquares) = (0, 0);
        for (var g = piece.From; g < piece.To; g++)
        {
            likelihood.Place(g, beta);
            likelihood.At(g, 0, d, higher: false);
            sum.Value += d.Value;
            for (int i = 0, pair = 0; i < Coefficients; i++)
            {
                sum.Gradient[i] += d.V1[i];
                for (var j = 0; j <= i; j++) sum.Second[i * Size + j] += d.M2[pair++];
            }

            piece.Excess += d.S1 * d.S1 + d.S2;
            piece.InformationSquares += d.S2 * d.S2;
            (modes[g], curvatures[g]) = (0, 1);
        }

        sum.Second[^1] = piece.Excess;
    }

    private sealed class Piece(int from, int to, AdaptiveGaussHermite quadrature, Derivatives sum, GroupDerivatives room)
    {
        public int From { get; } = from;

        public int To { get; } = to;

        public AdaptiveGaussHermite Quadrature { get; } = quadrature;

        public Derivatives Sum { get; } = sum;

        public GroupDerivatives Room { get; } = room;

        public double Excess { get; set; }

        public double InformationSquares { get; set; }
    }
}

using System.Runtime.CompilerServices;

namespace Tussock.Survival;

/// <summary>Exact distribution of the number of runs along one line when each class's losses are arranged at random among its nests: a kernel with its own working room, for one thread.</summary>
/// <remarks>
/// Walking along the line, the state is (losses used in each class, fate of the last nest), and for each state the number of ways by changes of fate so far.
/// A nest that is lost moves its class's count up by one; a fate unlike the last one moves the ways up by one change. States from which the line can't
/// be finished are not entered. Updated in place: for the class of the present nest the counts run downwards, so that each state is read before it is written.
/// Ways are whole numbers below 2^60, held as floating point with a relative error near 1e-16.
/// </remarks>
internal sealed class RunsDistribution
{
    private readonly int[] size = new int[3], stride = new int[3], least = new int[3], most = new int[3], seen = new int[3];
    private double[] intact = [], lost = [];
    private int width;

    /// <summary>P(R = r) for r = 0, 1, …</summary>
    internal double[] Of(ClassesOnLine line)
    {
        var states = Prepare(line);
        Begin(line.Of[0], line);
        for (var i = 1; i < line.Of.Length; i++) Walk(line.Of[i], line, Math.Min(width, i + 1));
        var end = (states - 1) * width;
        double ways = 0;
        var result = new double[width + 1];
        for (var changes = 0; changes < width; changes++) ways += result[changes + 1] = intact[end + changes] + lost[end + changes];
        for (var r = 0; r < result.Length; r++) result[r] /= ways;
        return result;
    }

    private int Prepare(ClassesOnLine line)
    {
        int states = 1, nests = line.Of.Length, losses = line.Lost.Sum();
        for (var c = 0; c < 3; c++)
        {
            (size[c], stride[c]) = (c < line.Count ? line.Lost[c] + 1 : 1, states);
            states *= size[c];
            least[c] = most[c] = seen[c] = 0;
        }

        width = Math.Min(nests, (2 * Math.Min(losses, nests - losses)) + 1);
        if (intact.Length < states * width) (intact, lost) = (new double[states * width], new double[states * width]);
        Array.Clear(intact, 0, states * width);
        Array.Clear(lost, 0, states * width);
        return states;
    }

    private void Begin(int c, ClassesOnLine line)
    {
        Advance(c, line);
        if (least[c] == 0) intact[0] = 1;
        if (most[c] == 1) lost[stride[c] * width] = 1;
    }

    /// <summary>Passes one nest of class c in the bounds of what can still be finished.</summary>
    private void Advance(int c, ClassesOnLine line)
    {
        seen[c]++;
        least[c] = Math.Max(0, seen[c] - (line.Nests[c] - line.Lost[c]));
        most[c] = Math.Min(line.Lost[c], seen[c]);
    }

    private void Walk(int c, ClassesOnLine line, int reach)
    {
        var (before, others) = (most[c], (A: (c + 1) % 3, B: (c + 2) % 3));
        var lowest = least[c];
        Advance(c, line);
        for (var x = least[others.A]; x <= most[others.A]; x++)
        {
            for (var y = least[others.B]; y <= most[others.B]; y++)
            {
                var origin = (x * stride[others.A]) + (y * stride[others.B]);
                for (var u = before; u >= lowest; u--) Pass(origin + (u * stride[c]), stride[c], u < most[c], u >= least[c], reach);
                if (lowest >= least[c]) Array.Clear(lost, (origin + (lowest * stride[c])) * width, reach);
            }
        }
    }

    // Compiled at full strength at once: one season's lines are over before the runtime would have warmed up.
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    private void Pass(int state, int step, bool mayBeLost, bool mayBeIntact, int reach)
    {
        var whole = intact.AsSpan(state * width, reach);
        var gone = lost.AsSpan(state * width, reach);
        if (mayBeLost)
        {
            var next = lost.AsSpan((state + step) * width, reach);
            gone.CopyTo(next);
            Convolution.Add(whole[..(reach - 1)], 1, next[1..]);
        }

        if (mayBeIntact) Convolution.Add(gone[..(reach - 1)], 1, whole[1..]);
    }
}

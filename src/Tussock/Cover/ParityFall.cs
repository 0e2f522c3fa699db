using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Models;

namespace Tussock.Cover;

/// <summary>How far the log-likelihood falls when the two roles are held to meet at a given density.</summary>
/// <remarks>With the roles alike at log density L: log h = b0 + b2·x + b3·other·(x − L). Each value is a fit of its own, with its own spread of lines.</remarks>
internal sealed class ParityFall(NestSpans nests, ParityLines lines, double best, double level)
{
    private static readonly ImmutableArray<string> Effects = ["log density", "other cover, from parity"];

    /// <summary>Twice the fall at log density <paramref name="log"/>; 0 at the estimate, +∞ where the fit can't be had.</summary>
    public double At(double log)
    {
        var table = SpanTable.Of(nests, Effects, (row, x) =>
        {
            var from = lines.Log(nests.Line[row]);
            x[0] = from;
            x[1] = lines.IsOther(nests.Cover[row]) ? from - log : 0;
        });
        return Fall(GroupedFit.Of(table, Link.LogHazard, new GroupedOptions { Level = level, Profile = false }));
    }

    /// <summary>Twice the fall when both roles change alike with density: the limit of <see cref="At"/> at both ends.</summary>
    public double AtEnds()
    {
        var table = SpanTable.Of(nests, ["log density", "other cover"], (row, x) =>
        {
            x[0] = lines.Log(nests.Line[row]);
            x[1] = lines.IsOther(nests.Cover[row]) ? 1 : 0;
        });
        return Fall(GroupedFit.Of(table, Link.LogHazard, new GroupedOptions { Level = level, Profile = false }));
    }

    private double Fall(Answer<GroupedFit> fit) => fit.HasValue ? 2 * (best - fit.Value.LogLikelihood) : double.PositiveInfinity;
}

using Tussock.Fates;

namespace Tussock.Survival;

/// <summary>The likelihoods of the lines of a group.</summary>
/// <param name="Lines">One a line with a watched nest.</param>
/// <param name="Nests">Number of watched nests.</param>
internal readonly record struct LineLikelihoods(LineLikelihood[] Lines, int Nests)
{
    /// <summary>Reads the nests of each line.</summary>
    /// <returns>A reason when no nest was watched, or a loss has chance 0 under the shape.</returns>
    public static Answer<LineLikelihoods> Of(NestSpans nests, HazardShape shape)
    {
        var lines = new List<LineLikelihood>();
        List<double> survived = [], lostWithin = [];
        int timed = 0, used = 0;
        for (var row = 0; row < nests.Count; row++)
        {
            if (nests.IsWatched(row))
            {
                used++;
                if (!double.IsNaN(nests.LostAt[row]))
                {
                    timed++;
                    survived.Add(shape.Upto(nests.LostAt[row]));
                    if (!(shape.PerDay(nests.LostAt[row]) > 0)) return NoAnswer.Because("chance.impossible_loss");
                }
                else
                {
                    var kept = shape.Upto(nests.LastIntact[row]);
                    survived.Add(kept);
                    if (nests.IsLost(row)) lostWithin.Add(shape.Upto(nests.FirstLost[row]) - kept);
                    if (lostWithin.Count > 0 && !(lostWithin[^1] > 0)) return NoAnswer.Because("chance.impossible_loss");
                }
            }

            if (row + 1 < nests.Count && nests.Line[row + 1] == nests.Line[row]) continue;
            if (survived.Count > 0) lines.Add(new LineLikelihood(System.Runtime.InteropServices.CollectionsMarshal.AsSpan(survived), timed, System.Runtime.InteropServices.CollectionsMarshal.AsSpan(lostWithin)));
            survived.Clear();
            lostWithin.Clear();
            timed = 0;
        }

        return used == 0 ? NoAnswer.Because("chance.no_visit") : new LineLikelihoods([.. lines], used);
    }
}

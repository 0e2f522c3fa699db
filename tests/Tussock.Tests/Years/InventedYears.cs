using System.Collections.Immutable;
using Tussock.Numerics;
using Tussock.Records;
using Tussock.Results;
using Tussock.Years;

namespace Tussock.Tests.Years;

/// <summary>Years of an invented pasture from counts by line.</summary>
internal static class InventedYears
{
    /// <summary>A year from survivors and nests of known fate by line; names of lines last where <paramref name="walkedAgain"/>.</summary>
    internal static PastureYear Year(string label, (int Survived, int Known)[] lines, bool walkedAgain = false, string property = "Two Windmills", double clumpsALine = 12) => new()
    {
        Conduct = new SeasonConduct { Season = "s" + label, Label = label, Days = "28: 14 28" },
        Property = property,
        TrialDays = 28,
        Benchmark = 0.5,
        Counts = new FateCounts(lines.Sum(l => l.Known), lines.Sum(l => l.Known), lines.Sum(l => l.Survived), lines.Sum(l => l.Known - l.Survived), 0, 0),
        Lines = [.. lines.Select((l, i) => new LineYear(walkedAgain ? "L" + i : null, "L" + i, l.Survived, l.Known, clumpsALine + i, 500))],
        PerAcre = new Measured(clumpsALine, null, null),
    };

    /// <summary>Draws a year: each line has its own hazard, of which a part stays when it is walked again.</summary>
    internal static (int Survived, int Known)[] Draw(Seeded chance, double beta, double sd, double[] lasting, double ownShare, int nests)
    {
        var lines = new (int, int)[lasting.Length];
        for (var l = 0; l < lines.Length; l++)
        {
            var u = (Math.Sqrt(1 - ownShare) * lasting[l]) + (Math.Sqrt(ownShare) * chance.NextNormal());
            var survival = Math.Exp(-Math.Exp(beta + (sd * u)));
            var survived = 0;
            for (var n = 0; n < nests; n++) if (chance.NextUniform() < survival) survived++;
            lines[l] = (survived, nests);
        }

        return lines;
    }
}

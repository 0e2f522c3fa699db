using System.Collections.Immutable;
using Tussock.Pictures;
using Tussock.Planning.Power;
using Tussock.Words;

namespace Tussock.App.Commands;

/// <summary>The chances of calls by what is true, as a picture.</summary>
internal static class PowerPicture
{
    internal static string Draw(PowerAnswer answer, OperatingCurve curves, Catalogue words)
    {
        var panels = new List<CallPanel> { Panel("power.picture_survival", answer.Question.SurvivalBenchmark, true, curves.Survival) };
        if (!curves.Density.IsEmpty) panels.Add(Panel("power.picture_density", answer.Question.DensityBenchmark, false, curves.Density));
        return CallCurves.Draw(panels, words);
    }

    private static CallPanel Panel(string name, double benchmark, bool isShare, ImmutableArray<CallsAtTruth> points) =>
        new(Phrase.Of(name), benchmark, isShare, [.. points.Select(p => new CallDot(p.Truth, p.Likely, p.Unlikely))]);
}

using System.Collections.Immutable;

namespace Tussock.Evidence.Practice;

/// <summary>Reads a nest whose culprit is known as a case to practise on: the belief of a model that this nest did not teach.</summary>
internal static class PracticeReading
{
    /// <summary>The case.</summary>
    /// <param name="model">What other nests taught.</param>
    /// <param name="nest">The nest; its class is confirmed.</param>
    internal static PracticeCase Of(BeliefModel model, NestEvidence nest)
    {
        var belief = model.Of(nest.Signs);
        var leads = belief.Chances.IndexOf(belief.Chances[..^1].Max());
        var why = BeliefReasons.Why(model, nest.Signs).Where(r => Math.Abs(r.Bits[leads]) >= BeliefReasons.Least).OrderByDescending(r => Math.Abs(r.Bits[leads])).Take(PracticeSet.MostReasons);
        return new PracticeCase(nest.Signs, model.Catalogue.CulpritIndex(nest.Confirmed!), belief, WholePercents.Of(belief.Chances), [.. why.Select(r => r.InWords(belief))]);
    }
}

using System.Collections.Immutable;
using Tussock.Evidence;
using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Results;

/// <summary>Who is known to have been at a lost nest.</summary>
public enum Visitors
{
    /// <summary>No camera saw the loss, and its signs do not contradict each other.</summary>
    NotSeen,

    /// <summary>A camera saw one visitor.</summary>
    OneSeen,

    /// <summary>A camera saw another animal after the act: the remains may be of either.</summary>
    SeveralSeen,

    /// <summary>No camera saw the loss, and one sign has several values: there may have been more than one visitor.</summary>
    SignsOfSeveral,
}

/// <summary>A depredated nest with what it shows and what a camera saw of it.</summary>
/// <param name="Fate">The nest and its fate.</param>
/// <param name="Row">Its row in the season's columns.</param>
/// <param name="Evidence">Signs and confirmed class.</param>
/// <param name="Visitors">Who is known to have been there.</param>
internal sealed record LossEvidence(NestFate Fate, int Row, NestEvidence Evidence, Visitors Visitors)
{
    /// <summary>Days by which a camera's day may miss the loss it timed, because a date stands for a whole day.</summary>
    private const double WholeDay = 1;

    /// <summary>The depredated nests of a season in the order of its columns; those without remains among them.</summary>
    internal static ImmutableArray<LossEvidence> Of(Season season, SeasonFates fates)
    {
        var signs = season.Remains.ToLookup(r => r.Nest, r => new SignSeen(r.Sign, r.Value));
        var events = season.CameraEvents.ToLookup(e => e.Nest);
        var rows = ImmutableArray.CreateBuilder<LossEvidence>();
        for (var i = 0; i < fates.Rows.Length; i++)
        {
            var fate = fates.Rows[i];
            if (fate.Cause != Cause.Depredated) continue;
            var act = Act(fate, [.. events[fate.Nest]], season.Settings.LossRule);
            var confirmed = act is { Culprit: { Length: > 0 } and not "unknown" } ? act.Culprit : null;
            var hasLater = act is not null && HasLaterVisitor(act, events[fate.Nest]);
            ImmutableArray<SignSeen> seen = [.. signs[fate.Nest]];
            rows.Add(new LossEvidence(fate, i, new NestEvidence(fates.Spans.Line[i], seen, confirmed, !hasLater), hasLater ? Visitors.SeveralSeen : act is not null ? Visitors.OneSeen : Contradict(seen) ? Visitors.SignsOfSeveral : Visitors.NotSeen));
        }

        return rows.ToImmutable();
    }

    /// <summary>The camera event that timed the loss of a nest; null when none did. An animal photographed near a nest is not the act.</summary>
    private static CameraEvent? Act(NestFate fate, CameraEvent[] events, LossRule rule) =>
        fate.LostAt is not { } t ? null : FateRule.TimingEvents(events, rule, fate.Nest.Eggs).FirstOrDefault(e => Math.Abs(e.Day!.Value - t) < WholeDay);

    private static bool HasLaterVisitor(CameraEvent act, IEnumerable<CameraEvent> events) => events.Any(e => e.Day > act.Day && e.Culprit.Length > 0 && e.Culprit != act.Culprit);

    private static bool Contradict(ImmutableArray<SignSeen> seen) =>
        seen.Select(s => SignCatalogue.Standard.Find(s.Sign, s.Value)).OfType<(int Sign, int Value)>().Distinct().GroupBy(s => s.Sign).Any(g => g.Count() > 1);
}

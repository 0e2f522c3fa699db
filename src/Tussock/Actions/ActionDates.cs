using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Actions;

/// <summary>Whether an action had been taken where and when a nest lay, from what happened to the land.</summary>
internal sealed class ActionDates
{
    private readonly (LandEvent Event, DateOnly From, string Line, bool IsLasting)[] events;
    private readonly HashSet<string> lines;
    private readonly double days;

    /// <summary>Reads the events of a kind.</summary>
    public ActionDates(Season season, IEnumerable<NestFate> fates, string kind)
    {
        var lineOf = season.Transects.ToDictionary(t => t.Name, t => t.Line, StringComparer.Ordinal);
        var all = season.Events.Where(e => e.Kind == kind).ToArray();
        Undated = all.Count(e => e.From is null);
        var setOn = fates.Select(f => f.Nest.SetOn!.Value).Distinct().ToArray();
        days = season.Settings.TrialDays;
        events = [.. all.Where(e => e.From is not null).OrderBy(e => e.From).Select(e => (e, e.From!.Value, lineOf.GetValueOrDefault(e.Transect, ""), e.To is { } to && setOn.Any(d => d > e.From && d <= to)))];
        lines = events.Where(e => e.Event.Transect.Length > 0).Select(e => e.Line).ToHashSet(StringComparer.Ordinal);
    }

    /// <summary>Whether anything of the kind has a date.</summary>
    public bool HasAny => events.Length > 0;

    /// <summary>Events of the kind without a date: not used.</summary>
    public int Undated { get; }

    /// <summary>Whether an event names lines that no season has.</summary>
    public bool HasUnknownLines => lines.Contains("");

    /// <summary>Whether the action was taken on the line by itself, not only on its whole pasture.</summary>
    public bool IsOnLine(string line) => lines.Contains(line);

    /// <summary>How a nest stands to the action.</summary>
    /// <remarks>
    /// Work that was over before any nest was set out (brush work, a burn) acts from then on. An action during which nests were set out (a rest) acts until its end; nests after its end are neither with nor without.
    /// Nests that were out when it began are neither.
    /// </remarks>
    public ActionState Of(Nest nest)
    {
        var on = nest.SetOn!.Value;
        var state = ActionState.Without;
        foreach (var (e, from, line, isLasting) in events)
        {
            if (!Concerns(e, line, nest)) continue;
            var now = on <= from ? (from.DayNumber - on.DayNumber <= days ? ActionState.During : ActionState.Without) : isLasting && on > e.To ? ActionState.Over : ActionState.With;
            if (now > state) state = now;
        }

        return state;
    }

    private static bool Concerns(LandEvent e, string line, Nest nest)
    {
        var pasture = nest.Transect.Pasture;
        if (e.Transect.Length > 0) return line == nest.Transect.Line;
        return (e.Property.Length == 0 || e.Property == pasture.Property) && (e.Pasture.Length == 0 || e.Pasture == pasture.Name);
    }
}

/// <summary>How a nest stands to an action; later ones win where there are several actions.</summary>
internal enum ActionState
{
    /// <summary>Set out before any action.</summary>
    Without,

    /// <summary>Set out after an action that has ended since.</summary>
    Over,

    /// <summary>It was out when an action began.</summary>
    During,

    /// <summary>Set out after the action.</summary>
    With,
}

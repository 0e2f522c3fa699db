using System.Collections.Immutable;
using System.Globalization;

namespace Tussock.Desk.Before;

/// <summary>A planning form as it was typed: every box readable, or told what is wrong with it. Unsent, it holds what is usual.</summary>
public sealed class PlanTyped
{
    private readonly ImmutableDictionary<string, string> typed;

    private PlanTyped(ImmutableArray<PlanField> fields, ImmutableDictionary<string, string> typed, bool isSent)
    {
        (Fields, this.typed, IsSent) = (fields, typed, isSent);
        Wrong = isSent ? [.. fields.Select(Fault).OfType<Phrase>()] : [];
    }

    /// <summary>The boxes, in order.</summary>
    public ImmutableArray<PlanField> Fields { get; }

    /// <summary>Whether somebody sent it.</summary>
    public bool IsSent { get; }

    /// <summary>What can't be read, each in a sentence.</summary>
    public ImmutableArray<Phrase> Wrong { get; }

    /// <summary>Reads a form.</summary>
    /// <param name="fields">Its boxes.</param>
    /// <param name="sent">What was sent under a name; null where nothing was.</param>
    public static PlanTyped Of(ImmutableArray<PlanField> fields, Func<string, string?> sent)
    {
        ArgumentNullException.ThrowIfNull(sent);
        var all = fields.ToDictionary(f => f.Name, f => sent(f.Name)?.Trim(), StringComparer.Ordinal);
        var isSent = all.Values.Any(v => v is not null);
        return new PlanTyped(fields, all.ToImmutableDictionary(p => p.Key, p => p.Value ?? (isSent ? "" : fields.First(f => f.Name == p.Key).Usual), StringComparer.Ordinal), isSent);
    }

    /// <summary>The same boxes filled in by the program.</summary>
    public PlanTyped With(params ReadOnlySpan<(string Name, string Text)> texts)
    {
        var filled = typed;
        foreach (var (name, text) in texts) filled = filled.SetItem(name, text);
        return new PlanTyped(Fields, filled, IsSent);
    }

    /// <summary>What stands in a box.</summary>
    public string Text(string name) => typed[name];

    /// <summary>Whether a tick is set.</summary>
    public bool Is(string name) => typed[name] == "yes";

    /// <summary>The number in a box that is readable.</summary>
    public double Number(string name) => Parsed(typed[name]) ?? throw new InvalidOperationException("No number in " + name);

    /// <summary>The number in a box that may be empty.</summary>
    public double? Perhaps(string name) => Parsed(typed[name]);

    /// <summary>The whole number in a box that is readable.</summary>
    public int Whole(string name) => (int)Number(name);

    /// <summary>The date in a box that is readable.</summary>
    public DateOnly Date(string name) => Day(typed[name]) ?? throw new InvalidOperationException("No date in " + name);

    /// <summary>The time of day in a box that is readable.</summary>
    public TimeOnly Time(string name) => Clock(typed[name]) ?? throw new InvalidOperationException("No time in " + name);

    private Phrase? Fault(PlanField field)
    {
        var text = typed[field.Name];
        var isRight = field.Box switch
        {
            PlanBox.Tick => text is "" or "yes",
            PlanBox.Words => text.Length <= field.Most,
            PlanBox.Date => Day(text) is not null,
            PlanBox.Time => Clock(text) is not null,
            PlanBox.Optional when text.Length == 0 => true,
            _ => Parsed(text) is { } x && x >= field.Least && x <= field.Most && (field.Box != PlanBox.Whole || x == Math.Floor(x)),
        };
        if (isRight) return null;
        var (label, found) = (Phrase.Of(field.Label), TableText(text));
        return field.Box switch
        {
            PlanBox.Words or PlanBox.Tick => Phrase.Of("plan_desk.too_long", ("box", label), ("most", field.Most)),
            PlanBox.Date => Phrase.Of("plan_desk.no_date", ("box", label), ("found", found)),
            PlanBox.Time => Phrase.Of("plan_desk.no_time", ("box", label), ("found", found)),
            PlanBox.Whole => Phrase.Of("plan_desk.no_whole", ("box", label), ("found", found), ("least", field.Least), ("most", field.Most)),
            _ => Phrase.Of("plan_desk.no_number", ("box", label), ("found", found), ("least", field.Least), ("most", field.Most)),
        };
    }

    private static string TableText(string text) => text.Length > 40 ? text[..40] + "…" : text;

    private static double? Parsed(string text) => double.TryParse(text.Replace(',', '.'), NumberStyles.AllowDecimalPoint | NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var x) && double.IsFinite(x) ? x : null;

    private static DateOnly? Day(string text) => DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out var date) ? date : null;

    private static TimeOnly? Clock(string text) => TimeOnly.TryParseExact(text, "HH:mm", CultureInfo.InvariantCulture, DateTimeStyles.None, out var time) ? time : null;
}

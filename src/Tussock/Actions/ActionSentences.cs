using System.Collections.Immutable;
using Tussock.Records;

namespace Tussock.Actions;

/// <summary>What is said before, beside and after a contrast.</summary>
internal static class ActionSentences
{
    /// <summary>Before any number: whether it can tell the action from the place at all.</summary>
    public static ImmutableArray<Phrase> First(ActionLands lands)
    {
        const double Doubt = 0.05;
        var said = ImmutableArray.CreateBuilder<Phrase>();
        if (lands.Treated.Length == 1) said.Add(Phrase.Of("action.one_treated"));
        if (lands.Untreated.Length == 1) said.Add(Phrase.Of("action.one_untreated"));
        if (lands.Treated.Concat(lands.Untreated).Any(l => l.IsLines)) said.Add(Phrase.Of("action.on_lines"));
        if (ActionLuck.Of(lands.Nests) is { HasValue: true } luck && luck.Value < Doubt) said.Add(Phrase.Of("action.luck", ("p", luck.Value)));
        return said.ToImmutable();
    }

    /// <summary>What must hold for the numbers to mean anything.</summary>
    public static ImmutableArray<Phrase> MustHold(string kind)
    {
        var said = ImmutableArray.CreateBuilder<Phrase>();
        said.AddRange(Phrase.Of("action.must_alike"), Phrase.Of("action.must_alone"), Phrase.Of("action.must_same"), Phrase.Of("action.must_chosen"), Phrase.Of("action.must_stay"));
        if (kind == "predator_removal") said.Add(Phrase.Of("action.must_predators"));
        return said.ToImmutable();
    }

    /// <summary>What was left out, what was done differently, where the answers part, and care.</summary>
    public static ImmutableArray<Phrase> Cautions(Season pooled, string kind, ActionLands lands, Estimate effect, Estimate changes)
    {
        var said = ImmutableArray.CreateBuilder<Phrase>();
        if (Parts(effect, changes)) said.Add(Phrase.Of("action.answers_part"));
        said.AddRange(lands.Said);
        Weak(lands, said);
        if (ActionLuck.Of(lands.Nests).Why is { } unknown) said.Add(unknown);
        if (lands.Treated.Select(t => t.FromYear).Distinct(StringComparer.Ordinal).Count() > 1) said.Add(Phrase.Of("action.staggered"));
        if (lands.Treated.Select(t => t.Property).Distinct(StringComparer.Ordinal).Any(p => lands.Untreated.All(u => u.Property != p))) said.Add(Phrase.Of("action.other_property"));
        said.AddRange(ApartWithin(pooled, lands));
        if (Others(pooled, kind, lands) is { Length: > 0 } others) said.Add(Phrase.Of("action.others", ("what", others)));
        said.AddRange(pooled.Tables.Pooled?.Cautions ?? []);
        if (kind == "predator_removal") said.Add(Phrase.Of("action.care_predators"));
        if (kind == "burn") said.Add(Phrase.Of("action.care_burn"));
        return said.ToImmutable();
    }

    /// <summary>Whether one answer says that survival moved and the other does not, or the other way.</summary>
    public static bool Parts(Estimate effect, Estimate changes)
    {
        if (effect is not { Low: { } low, High: { } high } || changes is not { Low: { } least, High: { } most }) return false;
        static int Side(double low, double high) => low > 0 ? 1 : high < 0 ? -1 : 0;
        return Side(low, high) != Side(least, most);
    }

    private static void Weak(ActionLands lands, ImmutableArray<Phrase>.Builder said)
    {
        var years = Enumerable.Range(0, lands.Nests.Nests.Count).Where(r => lands.Units[lands.Nests.Unit[r]].FromYear is not null).Select(r => (Year: lands.Nests.Year[r], IsWith: lands.Nests.IsWith[r])).Distinct().ToArray();
        var (before, after) = (years.Count(y => !y.IsWith), years.Count(y => y.IsWith));
        if (before < 2 || after < 2) said.Add(Phrase.Of("action.weak_ground", ("before", before), ("after", after)));
    }

    /// <summary>Years in which land with and land without were set out at other times.</summary>
    private static IEnumerable<Phrase> ApartWithin(Season pooled, ActionLands lands)
    {
        foreach (var year in lands.Years)
        {
            var own = pooled.Nests.Where(n => n.IsSet && ActionLands.YearOf(pooled, n.Transect) == year).ToArray();
            var (with, without) = (Middle(own, lands.Treated), Middle(own, lands.Untreated));
            if (with is { } a && without is { } b && Math.Abs(a.DayNumber - b.DayNumber) > PoolingCautions.MostDaysApart) yield return Phrase.Of("action.set_on", ("year", year), ("with", a), ("without", b));
        }
    }

    private static DateOnly? Middle(IEnumerable<Nest> nests, IEnumerable<ActionLand> lands)
    {
        var own = lands.Select(l => (l.Property, l.Pasture)).ToHashSet();
        var dates = nests.Where(n => own.Contains((n.Transect.Pasture.Property, n.Transect.Pasture.Name))).Select(n => n.SetOn!.Value).Order().ToArray();
        return dates.Length == 0 ? null : dates[(dates.Length - 1) / 2];
    }

    /// <summary>Actions of other kinds on the same land in the same time.</summary>
    private static Phrase[] Others(Season pooled, string kind, ActionLands lands)
    {
        var dates = pooled.Nests.Where(n => n.IsSet).Select(n => n.SetOn!.Value).DefaultIfEmpty().ToArray();
        var (first, last) = (dates.Min(), dates.Max());
        var all = lands.Treated.Concat(lands.Untreated).ToArray();
        var kinds = BeforeAfterControl.Kinds(pooled);
        return [.. pooled.Events.Where(e => e.Kind != kind && kinds.Contains(e.Kind) && e.From >= first && e.From <= last && all.Any(l => (e.Property.Length == 0 || e.Property == l.Property) && (e.Pasture.Length == 0 || e.Pasture == l.Pasture)))
            .Select(e => (e.Kind, e.Pasture, e.From!.Value.Year)).Distinct().OrderBy(e => e.Year).ThenBy(e => e.Kind, StringComparer.Ordinal).ThenBy(e => e.Pasture, StringComparer.Ordinal)
            .Select(e => e.Pasture.Length > 0 ? Phrase.Of("action.other", ("kind", Phrase.Of("years.event." + e.Kind)), ("pasture", e.Pasture), ("year", Words.Numbers.Whole(e.Year))) : Phrase.Of("action.other_everywhere", ("kind", Phrase.Of("years.event." + e.Kind)), ("year", Words.Numbers.Whole(e.Year))))];
    }
}

using System.Collections.Immutable;
using Tussock.Results;

namespace Tussock.Years;

/// <summary>What years beside each other say, in words.</summary>
public static class YearSentences
{
    /// <summary>Chance from which a direction is said.</summary>
    private const double Leans = 0.65;

    /// <summary>Events that are listed; more are counted.</summary>
    private const int MostEvents = 12;

    /// <summary>Less than half a point is no change that is worth a word.</summary>
    private const double LeastSaid = 0.005;

    /// <summary>What has to be said of any years beside each other.</summary>
    public static readonly ImmutableArray<Phrase> Always = [Phrase.Of("years.how"), Phrase.Of("years.weather")];

    /// <summary>What one year says against another.</summary>
    public static ImmutableArray<Phrase> Of(YearStep step)
    {
        ArgumentNullException.ThrowIfNull(step);
        var said = ImmutableArray.CreateBuilder<Phrase>();
        var d = step.Survival.Difference;
        // Two seasons of one year are told apart by their names.
        var (before, after) = step.Before.Label == step.After.Label ? (step.Before.Conduct.Season, step.After.Conduct.Season) : (step.Before.Label, step.After.Label);
        if (d is { Value: { } points, Low: { } low, High: { } high })
        {
            var isFall = points <= -LeastSaid;
            said.Add(Phrase.Of(points >= LeastSaid ? "years.rose" : isFall ? "years.fell" : "years.same", ("before", before), ("after", after), ("points", 100 * Math.Abs(points)), ("low", isFall ? -100 * high : 100 * low), ("high", isFall ? -100 * low : 100 * high), ("settled", Settled(step.Survival.ChanceRose))));
            said.AddRange(d.Notes);
        }
        else
        {
            said.Add(Phrase.Of("years.no_difference", ("before", before), ("after", after), ("why", d.Why!)));
        }

        if (step.SharedKnown > 0) said.Add(Phrase.Of("years.lines_again", ("lines", step.SharedKnown), ("up", step.LinesUp), ("down", step.LinesDown)));
        if (step.Density.Ratio is { Value: { } ratio, Low: { } from, High: { } to }) said.Add(Phrase.Of("years.density", ("before", before), ("after", after), ("ratio", ratio), ("low", from), ("high", to)));
        return said.ToImmutable();
    }

    /// <summary>What all years say of a trend.</summary>
    public static Phrase Of(YearTrend trend)
    {
        ArgumentNullException.ThrowIfNull(trend);
        var p = trend.PointsAYear;
        return Phrase.Of("years.trend", ("years", trend.Years), ("points", 100 * p.Value!.Value), ("low", 100 * p.Low!.Value), ("high", 100 * p.High!.Value), ("chance", Sentences.ChanceInWords(trend.ChanceRising)));
    }

    /// <summary>What a network says beside its table.</summary>
    public static ImmutableArray<Phrase> Of(Network network)
    {
        ArgumentNullException.ThrowIfNull(network);
        var said = ImmutableArray.CreateBuilder<Phrase>();
        var all = network.Together.Survival;
        if (network.Properties < Synthesis.FewestForSpread) said.Add(Phrase.Of("years.few_properties", ("fewest", Synthesis.FewestForSpread)));
        if (all is { Mean: { Value: { } mean, Low: { } low, High: { } high }, I2: { } i2 })
        {
            said.Add(Phrase.Of("years.typical", ("mean", mean), ("low", low), ("high", high)));
            if (all.NewProperty is { } p) said.Add(Phrase.Of("years.new_property", ("low", p.Low), ("high", p.High)));
            said.Add(Phrase.Of("years.heterogeneity", ("share", i2)));
        }

        if (all.Quartiles is { } q) said.Add(Phrase.Of("years.quartiles", ("lower", q.Lower), ("middle", q.Middle), ("upper", q.Upper)));
        said.Add(network.Trend.HasValue ? Of(network.Trend.Value) : network.Trend.Why);
        foreach (var (name, part) in ((string, Synthesis)[])[("years.of_cover_ratio", network.Together.CoverRatio), ("years.of_parity", network.Together.Parity), ("years.of_density", network.Together.Density)])
        {
            if (part.LeftOut > 0) said.Add(Phrase.Of("years.without_number", ("what", Phrase.Of(name)), ("properties", part.LeftOut)));
        }

        said.Add(Phrase.Of("years.borrows"));
        return said.ToImmutable();
    }

    /// <summary>Where a property stands among all, without naming another.</summary>
    public static ImmutableArray<Phrase> Place(Network network, string property)
    {
        ArgumentNullException.ThrowIfNull(network);
        var place = network.PlaceOf(property);
        if (!place.HasValue) return [place.Why];
        var q = network.Together.Survival.Quartiles!.Value;
        var quarter = place.Value < 0.25 ? "years.quarter_lowest" : place.Value < 0.5 ? "years.quarter_lower" : place.Value < 0.75 ? "years.quarter_upper" : "years.quarter_highest";
        return [Phrase.Of("years.place", ("property", property), ("properties", network.Properties), ("quarter", Phrase.Of(quarter)), ("lower", q.Lower), ("upper", q.Upper)), Phrase.Of("years.place_luck")];
    }

    /// <summary>What happened to the land over the years; null where nothing was written down.</summary>
    public static Phrase? Happened(LandYears land)
    {
        ArgumentNullException.ThrowIfNull(land);
        var happened = land.Years.SelectMany(y => y.Events.Select(e => (y.Label, e.Kind, e.From))).ToArray();
        if (happened.Length == 0) return null;
        Phrase[] said = [.. happened.Take(MostEvents).Select(e => e.From is { } on ? Phrase.Of("years.event_on", ("event", Phrase.Of("years.event." + e.Kind)), ("date", on)) : Phrase.Of("years.event_in", ("event", Phrase.Of("years.event." + e.Kind)), ("year", e.Label)))];
        return happened.Length > MostEvents ? Phrase.Of("years.happened_more", ("events", said), ("more", happened.Length - MostEvents)) : Phrase.Of("years.happened", ("events", said));
    }

    private static Phrase Of(NetworkTrend trend) =>
        Phrase.Of("years.network_trend", ("years", trend.Years), ("times", Math.Exp(trend.SlopeAYear.Value!.Value)), ("low", Math.Exp(trend.SlopeAYear.Low!.Value)), ("high", Math.Exp(trend.SlopeAYear.High!.Value)), ("chance", Sentences.ChanceInWords(trend.ChanceRising)));

    private static Phrase Settled(Answer<double> chance)
    {
        if (!chance.HasValue) return Phrase.Of("years.chance_not_known");
        var c = chance.Value;
        var key = c is < Leans and > 1 - Leans ? "years.neither_way" : c >= Leans ? "years.probably_rose" : "years.probably_fell";
        return Phrase.Of(key, ("chance", Sentences.ChanceInWords(c >= 0.5 ? c : 1 - c)));
    }
}

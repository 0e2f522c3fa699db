using Tussock.Records;

namespace Tussock.Review;

/// <summary>One look through a season: what the rules read, and what they have found so far.</summary>
/// <remarks>A finding of rule r says the sentences <c>review.r</c> and <c>review.r_todo</c>, both with the same arguments; <c>where</c> names line and nest.</remarks>
internal sealed class Inspection
{
    internal Inspection(Season season, DateOnly? today)
    {
        Season = season;
        Today = today;
        (FirstCheck, LastCheck, Window) = season.Settings.TrialNumbers;
        Histories = NestHistory.All(season, new Fates.Trial(FirstCheck, LastCheck, Window));
    }

    internal Season Season { get; }

    internal DateOnly? Today { get; }

    /// <summary>First planned check day.</summary>
    internal double FirstCheck { get; }

    /// <summary>Last day of the trial.</summary>
    internal double LastCheck { get; }

    /// <summary>Days around a check day in which a visit still counts for it.</summary>
    internal double Window { get; }

    /// <summary>One history a nest, in the order of the season's nests.</summary>
    internal NestHistory[] Histories { get; }

    internal List<Problem> Found { get; } = [];

    internal void Add(string rule, Rank rank, Place place, Nest nest, params ReadOnlySpan<(string Name, object Value)> arguments) =>
        Found.Add(Finding(rule, rank, place, [("transect", nest.Transect.Name), ("nest", nest.Number), ("where", Phrase.Of("review.where_nest", ("transect", nest.Transect.Name), ("nest", nest.Number))), .. arguments]) with { Transect = nest.Transect.Name, Nest = nest.Number });

    internal void Add(string rule, Rank rank, Place place, Transect transect, params ReadOnlySpan<(string Name, object Value)> arguments) =>
        Found.Add(Finding(rule, rank, place, [("transect", transect.Name), ("where", Phrase.Of("review.where_line", ("transect", transect.Name))), .. arguments]) with { Transect = transect.Name });

    internal void Add(string rule, Rank rank, Place place, params ReadOnlySpan<(string Name, object Value)> arguments) => Found.Add(Finding(rule, rank, place, arguments));

    private static Problem Finding(string rule, Rank rank, Place place, ReadOnlySpan<(string Name, object Value)> arguments) =>
        new(rule, rank.Severity, place, Phrase.Of("review." + rule, arguments), Phrase.Of("review." + rule + "_todo", arguments)) { Weight = rank.Weight };
}

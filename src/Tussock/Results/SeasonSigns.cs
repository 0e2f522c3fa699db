using System.Collections.Immutable;
using Tussock.Evidence;
using Tussock.Fates;
using Tussock.Numerics;
using Tussock.Records;

namespace Tussock.Results;

/// <summary>One depredated nest: the belief, its reasons, what to look for next.</summary>
/// <param name="Fate">The nest and its fate.</param>
/// <param name="Reasons">Belief before and after its signs, and why.</param>
/// <param name="Confirmed">Class that a camera confirmed; null where none did.</param>
/// <param name="Visitors">Who is known to have been there.</param>
public sealed record NestReasons(NestFate Fate, BeliefReasons Reasons, string? Confirmed, Visitors Visitors);

/// <summary>Who did it: the answer of <c>tussock signs</c>.</summary>
/// <remarks>Same seasons and options, same bits, whatever the number of threads. May be shared between threads.</remarks>
public sealed class SeasonSigns
{
    private const int Block = 64;

    private SeasonSigns()
    {
    }

    /// <summary>The season.</summary>
    public required Season Season { get; init; }

    /// <summary>Seed of everything that resamples or permutes.</summary>
    public required ulong Seed { get; init; }

    /// <summary>Depredated nests by transect and number, those without remains among them.</summary>
    public required ImmutableArray<NestReasons> Nests { get; init; }

    /// <summary>Losses in groups: season, properties, pastures, cover classes, years, fortnights.</summary>
    public required ImmutableArray<LossGroup> Groups { get; init; }

    /// <summary>Differences between groups of one level.</summary>
    public required ImmutableArray<LossDifference> Differences { get; init; }

    /// <summary>Where cameras stood and how they were chosen.</summary>
    public required CameraPlacing Cameras { get; init; }

    /// <summary>How well observers agree, sign by sign.</summary>
    public required ImmutableArray<SignAgreement> Agreement { get; init; }

    /// <summary>The crew's guesses against cameras; a reason where there are none.</summary>
    public required Estimate GuessesAgainstCameras { get; init; }

    /// <summary>How well signs predict cameras here.</summary>
    public required Answer<Learning> Learning { get; init; }

    /// <summary>Names of the other seasons that taught too.</summary>
    public required ImmutableArray<string> OtherSeasons { get; init; }

    /// <summary>What has to be said wherever a culprit is shown.</summary>
    public required ImmutableArray<Phrase> Cautions { get; init; }

    /// <summary>Cameras for as many confirmed nests as a worthwhile gain needs, at this season's rate of confirmed losses a camera nest.</summary>
    public Answer<int> CamerasNeeded => !Learning.HasValue ? new NoAnswer(Learning.Why) : Cameras.Nests == 0 || Cameras.Confirmed == 0 ? NoAnswer.Because("signs.scoring.too_few")
        : Learning.Value.NestsNeeded.Then(n => (int)Math.Ceiling((double)n * Cameras.Nests / Cameras.Confirmed));

    /// <summary>Computes the answer.</summary>
    /// <param name="season">The season.</param>
    /// <param name="others">Other seasons of the data file; their confirmed nests teach at a discount. Seasons for practice neither teach nor are taught.</param>
    /// <param name="options">Seed, progress, cancel.</param>
    /// <exception cref="OperationCanceledException">It was stopped.</exception>
    public static SeasonSigns Of(Season season, IReadOnlyCollection<Season> others, ResultsOptions options)
    {
        ArgumentNullException.ThrowIfNull(season);
        ArgumentNullException.ThrowIfNull(options);
        var fates = SeasonFates.Of(season);
        var losses = LossEvidence.Of(season, fates);
        ImmutableArray<OtherSeason> beside = [.. others.Where(o => !o.Settings.IsPractice && !season.Settings.IsPractice).OrderBy(o => o.Settings.Name, StringComparer.Ordinal).Select(OtherSeason.Of)];
        var properties = season.Pastures.Select(p => p.Property).ToHashSet(StringComparer.Ordinal);
        ImmutableArray<NestOfOtherSeason> taught = [.. beside.SelectMany(o => o.Counting(properties))];
        ImmutableArray<NestEvidence> own = [.. losses.Select(l => l.Evidence)];
        options.Progress?.Invoke(0.05);
        var learning = Evidence.Learning.Of(SignCatalogue.Standard, own, taught, options.Seed, options.Cancel);
        options.Progress?.Invoke(0.3);
        var groups = LossGroups.Of(season, fates, losses, beside, Culprits.AreCamerasDrawn(season), options.Seed, options.Cancel);
        options.Progress?.Invoke(0.6);
        return new SeasonSigns
        {
            Season = season,
            Seed = options.Seed,
            Nests = Reasons(BeliefModel.Learn(SignCatalogue.Standard, own, taught), [.. losses.OrderBy(l => fates.Spans.Transect[l.Row]).ThenBy(l => l.Fate.Nest.Number)], options),
            Groups = groups,
            Differences = LossGroups.Differences(groups),
            Cameras = CameraPlacing.Of(season, fates, losses),
            Agreement = Agreements(season),
            GuessesAgainstCameras = Guesses(season, losses),
            Learning = learning,
            OtherSeasons = [.. beside.Select(o => o.Season.Settings.Name)],
            Cautions = Evidence.Cautions.Of(season.Nests.Select(n => n.Source.Text("egg_kind")).Append(season.Settings.EggKind).Distinct(StringComparer.Ordinal)),
        };
    }

    /// <summary>Nests that show the same are read once.</summary>
    private static ImmutableArray<NestReasons> Reasons(BeliefModel model, ImmutableArray<LossEvidence> losses, ResultsOptions options)
    {
        var kinds = losses.GroupBy(l => Shown(l.Evidence), StringComparer.Ordinal).Select(g => (g.Key, g.First().Evidence.Signs)).ToArray();
        var read = new BeliefReasons[kinds.Length];
        var done = 0;
        Ordered.For((kinds.Length + Block - 1) / Block, block =>
        {
            for (var i = block * Block; i < Math.Min(kinds.Length, (block + 1) * Block); i++) read[i] = BeliefReasons.Of(model, kinds[i].Signs);
            options.Progress?.Invoke(0.6 + (0.4 * Math.Min(1, (double)Interlocked.Add(ref done, Block) / kinds.Length)));
        }, options.Cancel);
        var byKind = kinds.Select((k, i) => (k.Key, Read: read[i])).ToDictionary(k => k.Key, k => k.Read, StringComparer.Ordinal);
        return [.. losses.Select(l => new NestReasons(l.Fate, byKind[Shown(l.Evidence)], l.Evidence.Confirmed, l.Visitors))];
    }

    private static string Shown(NestEvidence nest) => string.Join('|', nest.Signs.Select(s => s.Sign + "=" + s.Value).Order(StringComparer.Ordinal));

    private static ImmutableArray<SignAgreement> Agreements(Season season)
    {
        var index = season.Remains.Select(r => r.Nest).Distinct().Select((n, i) => (n, i)).ToDictionary(p => p.n, p => p.i);
        return SignAgreement.Of(SignCatalogue.Standard, season.Remains.Select(r => new ObservedSign(index[r.Nest], r.Source.Text("observer"), new SignSeen(r.Sign, r.Value))));
    }

    private static Estimate Guesses(Season season, ImmutableArray<LossEvidence> losses)
    {
        var catalogue = SignCatalogue.Standard;
        var guessed = season.Remains.Select(r => (r.Nest, Guess: r.Source.Token("crew_guess"))).Where(r => r.Guess.Length > 0).ToLookup(r => r.Nest, r => r.Guess);
        var counts = catalogue.Culprits.Select(_ => new int[catalogue.Culprits.Length]).ToArray();
        foreach (var loss in losses)
        {
            if (loss.Evidence.Confirmed is { } seen && guessed[loss.Fate.Nest].Distinct().ToArray() is [var guess]) counts[catalogue.CulpritIndex(guess)][catalogue.CulpritIndex(seen)]++;
        }

        return CohenKappa.Of(counts);
    }
}

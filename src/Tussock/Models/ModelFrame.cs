using System.Collections.Immutable;
using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Models;

/// <summary>The nests of a season and everything that may explain their survival, by name.</summary>
/// <remarks>
/// A name is looked up in this order: cover; a column of nests; pasture, property, clumps_per_acre, fortnight, egg_age, refreshed, season_date; a column of
/// transects; a column of pastures. Made once for a season; effects are read when first asked for. Not shared between threads.
/// </remarks>
public sealed class ModelFrame
{
    private readonly Dictionary<string, Effect?> effects = new(StringComparer.Ordinal);
    private readonly OfferedColumns columns;
    private readonly FrameOptions options;

    private ModelFrame(Season season, ImmutableArray<NestWatch> nests, FrameOptions options) =>
        (Season, Nests, this.options, columns) = (season, nests, options, new OfferedColumns(season));

    /// <summary>The season.</summary>
    public Season Season { get; }

    /// <summary>Nests that inform, by line.</summary>
    public ImmutableArray<NestWatch> Nests { get; }

    /// <summary>What camera times are taken for.</summary>
    public CameraTimes Cameras => options.Cameras;

    /// <summary>What counts as the end of a nest.</summary>
    public Outcome Outcome => options.Outcome;

    /// <summary>The frame of a season.</summary>
    public static ModelFrame Of(Season season, SeasonFates fates, FrameOptions options) => new(season, NestWatch.Of(season, fates, options.Cameras, options.Outcome), options);

    /// <summary>Names of the effects that differ between nests or days here, in the order in which they are looked up; free text with a class for nearly every nest is not offered.</summary>
    public ImmutableArray<string> Choices() => [.. columns.Names.Distinct(StringComparer.Ordinal).Where(n => Effect(n) is { } e && Varies(e))];

    /// <summary>The effect with a name; null when there is none.</summary>
    public Effect? Effect(string name)
    {
        if (!effects.TryGetValue(name, out var effect)) effects.Add(name, effect = Read(name));
        return effect;
    }

    /// <summary>Whether an effect has more classes than nests can tell apart.</summary>
    public bool HasTooManyClasses(Effect effect) => effect.Levels.Length > 10 && 2 * effect.Levels.Length > Nests.Length;

    private bool Varies(Effect effect)
    {
        if (HasTooManyClasses(effect)) return false;
        if (effect.ChangesWithDays) return effect is not RefreshedEffect || Nests.Any(n => !n.Refreshed.IsEmpty);
        var first = double.NaN;
        for (var i = 0; i < Nests.Length; i++)
        {
            var value = effect.At(i, 0);
            if (double.IsNaN(first)) first = value;
            else if (!double.IsNaN(value) && value != first) return true;
        }

        return false;
    }

    private Effect? Read(string name) => name switch
    {
        "cover" => Classes(name, n => n.Cover, Season.Settings.CoverClasses.Select(c => c.Name)),
        _ when columns.OfNests(name) is { } read => Column(name, n => read(n.Source)),
        "pasture" => Classes(name, PastureName),
        "property" => Classes(name, n => n.Transect.Pasture.Property),
        "clumps_per_acre" when !options.ClumpsPerAcre.IsEmpty => Number(name, n => options.ClumpsPerAcre.TryGetValue(n.Transect.Line, out var density) ? density : null),
        "fortnight" => new FortnightEffect(Season.Settings.TrialNumbers.FirstCheck) { Name = name, Levels = FortnightEffect.Halves },
        "egg_age" => new EggAgeEffect(Refreshed()) { Name = name },
        "refreshed" => new RefreshedEffect(Refreshed()) { Name = name, Levels = RefreshedEffect.NoYes },
        "season_date" => SeasonDate(name),
        _ when columns.OfTransects(name) is { } read => Column(name, n => read(n.Transect.Source)),
        _ when columns.OfPastures(name) is { } read => Column(name, n => read(n.Transect.Pasture.Source)),
        _ => null,
    };

    /// <summary>The pasture's name, with that of its property where two properties have a pasture of the same name.</summary>
    private string PastureName(Nest nest)
    {
        var own = nest.Transect.Pasture;
        return Season.Pastures.Any(p => !ReferenceEquals(p, own) && p.Name == own.Name) ? own.Property + " " + own.Name : own.Name;
    }

    private ImmutableArray<double>[] Refreshed() => [.. Nests.Select(n => n.Refreshed)];

    private SeasonDateEffect? SeasonDate(string name)
    {
        if (Nests.IsEmpty) return null;
        var first = Nests.Min(n => n.Nest.SetOn!.Value);
        return new SeasonDateEffect([.. Nests.Select(n => (double)(n.Nest.SetOn!.Value.DayNumber - first.DayNumber))]) { Name = name };
    }

    /// <summary>A column whose filled cells are all numbers is a number, but for a year, which names a class; any other holds classes; an empty one is no effect.</summary>
    private NestEffect? Column(string name, Func<Nest, string> read)
    {
        var cells = Nests.Select(n => read(n.Nest)).Where(c => c.Length > 0).ToArray();
        if (cells.Length == 0) return null;
        return name != "year" && cells.All(c => Cell.Number(c) is not null) ? Number(name, n => Cell.Number(read(n))) : Classes(name, read);
    }

    private NestEffect Number(string name, Func<Nest, double?> read) => new([.. Nests.Select(n => read(n.Nest) ?? double.NaN)]) { Name = name };

    /// <summary>Classes in the order given, then others in alphabetical order; the first that a nest has is the reference.</summary>
    private NestEffect? Classes(string name, Func<Nest, string> read, IEnumerable<string>? inOrder = null)
    {
        var written = Nests.Select(n => read(n.Nest)).ToArray();
        var found = written.Where(c => c.Length > 0).ToHashSet(StringComparer.Ordinal);
        if (found.Count == 0) return null;
        var listed = (inOrder ?? []).Where(found.Contains).ToArray();
        ImmutableArray<string> levels = [.. listed, .. found.Except(listed, StringComparer.Ordinal).Order(StringComparer.Ordinal)];
        var index = levels.Select((l, i) => (l, i)).ToDictionary(l => l.l, l => (double)l.i, StringComparer.Ordinal);
        return new NestEffect([.. written.Select(c => index.GetValueOrDefault(c, double.NaN))]) { Name = name, Levels = levels };
    }
}

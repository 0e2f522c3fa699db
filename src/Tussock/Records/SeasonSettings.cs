using System.Collections.Immutable;

namespace Tussock.Records;

/// <summary>Role of a cover class.</summary>
public enum CoverRole
{
    /// <summary>Grass.</summary>
    Grass,

    /// <summary>Anything else: shrub, cactus, …</summary>
    Other,
}

/// <summary>A cover class of the season.</summary>
/// <param name="Name">Its name, as in the records.</param>
/// <param name="Role">Its role in the parity density.</param>
public sealed record CoverClass(string Name, CoverRole Role);

/// <summary>When a nest counts as lost by its eggs.</summary>
public enum LossRule
{
    /// <summary>Lost when any egg is gone or broken.</summary>
    AnyEgg,

    /// <summary>Lost when no egg is left whole.</summary>
    AllEggs,
}

/// <summary>What a verdict is given for.</summary>
public enum Judge
{
    /// <summary>Not chosen: by property when pastures have fewer than 4 lines.</summary>
    NotChosen,

    /// <summary>Each pasture.</summary>
    Pasture,

    /// <summary>The whole property.</summary>
    Property,
}

/// <summary>The rules of a season: the <c>season</c> object of its description. Equal when all fields are equal.</summary>
public sealed record SeasonSettings
{
    /// <summary>Name of the season; its key in a data file with several.</summary>
    public required string Name { get; init; }

    /// <summary>Title for people; the name where none was given.</summary>
    public required string Title { get; init; }

    /// <summary>Label of the year, not a date.</summary>
    public string Year { get; init; } = "";

    /// <summary>Game bird species that the season is about.</summary>
    public string Species { get; init; } = "";

    /// <summary>IANA time zone of the land; empty when not given.</summary>
    public string TimeZone { get; init; } = "";

    /// <summary>Length of the trial in days.</summary>
    public int TrialDays { get; init; } = 28;

    /// <summary>Planned check days, ascending.</summary>
    public ImmutableArray<int> CheckDays { get; init; } = [14, 28];

    /// <summary>Window in days around a check day in which a visit may still tell the fate.</summary>
    public int WindowDays { get; init; } = 3;

    /// <summary>Cover classes in the season's order, the reference first.</summary>
    public ImmutableArray<CoverClass> CoverClasses { get; init; } = [];

    /// <summary>When a nest counts as lost by its eggs.</summary>
    public LossRule LossRule { get; init; } = LossRule.AnyEgg;

    /// <summary>Benchmark of survival to the end of the trial, a share.</summary>
    public double SurvivalBenchmark { get; init; } = 0.5;

    /// <summary>Benchmark of clump density, suitable clumps per acre.</summary>
    public double ClumpsPerAcreBenchmark { get; init; } = 300;

    /// <summary>Classes that count towards the density benchmark; empty: all.</summary>
    public ImmutableArray<string> ClassesThatCount { get; init; } = [];

    /// <summary>What a verdict is given for.</summary>
    public Judge Judge { get; init; }

    /// <summary>Kind of egg; empty when not given.</summary>
    public string EggKind { get; init; } = "";

    /// <summary>Rain since October in millimetres, when given.</summary>
    public double? RainSinceOctoberMm { get; init; }

    /// <summary>Normal rain since October in millimetres, when given.</summary>
    public double? RainNormalMm { get; init; }

    /// <summary>The lead's comment for the landowner; empty when not given.</summary>
    public string Comment { get; init; } = "";

    /// <summary>Sealed code of an invented season for practice; empty for a season that was walked.</summary>
    public string Practice { get; init; } = "";

    /// <summary>Whether it is an invented season for practice: it teaches no other season and is compared with none.</summary>
    public bool IsPractice => Practice.Length > 0;

    /// <summary>The days that fates and estimators depend on, as numbers: first check, trial length, window.</summary>
    public (double FirstCheck, double Days, double Window) TrialNumbers => (CheckDays.IsEmpty ? TrialDays / 2.0 : CheckDays[0], TrialDays, WindowDays);
}

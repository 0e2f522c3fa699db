using System.Collections.Immutable;

namespace Tussock.Simulation;

/// <summary>What is true of one invented pasture: how many nests end in which way, and how thick its cover is.</summary>
/// <remarks>The counts are exact in every season that is drawn; chance decides which nests they fall on, and when. So the pasture has the same verdict for every seed.</remarks>
internal sealed record DemoPasture(string Property, string Name, string Prefix)
{
    internal int Lines { get; init; } = 8;

    internal int NestsPerLine { get; init; } = 8;

    /// <summary>Lines planned but never set out, besides.</summary>
    internal int PlannedLines { get; init; }

    /// <summary>Stations without a suitable clump.</summary>
    internal int NoClump { get; init; }

    internal int Eaten { get; init; }

    internal int Trampled { get; init; }

    internal int Flooded { get; init; }

    internal int Spoiled { get; init; }

    internal int NotFound { get; init; }

    /// <summary>Nests lost on each line, where the lines are given; else chance spreads the losses.</summary>
    internal ImmutableArray<int> LostByLine { get; init; } = [];

    /// <summary>How much more a nest beside an eaten one is in danger: 1 = not at all.</summary>
    internal double RunsAlongLine { get; init; } = 1;

    /// <summary>How much more a nest in grass is in danger than one in cactus.</summary>
    internal double GrassDanger { get; init; } = 1;

    internal double ClumpsPerAcre { get; init; }

    internal int Cameras { get; init; }

    /// <summary>First day of set-out in this pasture.</summary>
    internal DateOnly SetFrom { get; init; }

    /// <summary>Column and row of the pasture on its property's grid of fences.</summary>
    internal (int Column, int Row) Block { get; init; }

    internal string Management { get; init; } = "";

    internal string Note { get; init; } = "";

    /// <summary>The pastures of the built-in season: five that show the four verdicts and "not settled", and a ranch of four lines of six nests.</summary>
    internal static ImmutableArray<DemoPasture> All { get; } =
    [
        new("Thirteen Gates", "North Draw", "N")
        {
            NestsPerLine = 10, Eaten = 14, Trampled = 2, Spoiled = 1, NotFound = 2, ClumpsPerAcre = 520, Cameras = 8, SetFrom = new DateOnly(2026, 5, 11),
            Block = (0, 1), GrassDanger = 1.1, Management = "rested since October", Note = "invented place",
        },
        new("Thirteen Gates", "Caliche Hill", "C")
        {
            NoClump = 4, Eaten = 12, Spoiled = 1, NotFound = 1, ClumpsPerAcre = 140, Cameras = 6, SetFrom = new DateOnly(2026, 5, 12),
            Block = (1, 1), GrassDanger = 1.8, Management = "light stocking", Note = "invented place",
        },
        new("Thirteen Gates", "Old Field", "F")
        {
            Lines = 9, NestsPerLine = 10, NoClump = 5, Eaten = 56, Trampled = 3, Spoiled = 1, NotFound = 3, ClumpsPerAcre = 150, Cameras = 18, SetFrom = new DateOnly(2026, 5, 13),
            Block = (2, 1), RunsAlongLine = 2.5, GrassDanger = 2, Management = "farmed until the fence was moved", Note = "invented place",
        },
        new("Thirteen Gates", "East Pasture", "E")
        {
            NestsPerLine = 10, Eaten = 20, Trampled = 32, NotFound = 2, ClumpsPerAcre = 460, Cameras = 8, SetFrom = new DateOnly(2026, 5, 15),
            Block = (2, 0), GrassDanger = 1.2, Management = "30 head from the middle of the trial", Note = "invented place",
        },
        new("Thirteen Gates", "Mill Pasture", "M")
        {
            PlannedLines = 1, Eaten = 27, Flooded = 3, Spoiled = 1, NotFound = 2, ClumpsPerAcre = 390, Cameras = 7, SetFrom = new DateOnly(2026, 5, 18),
            Block = (1, 0), GrassDanger = 1.3, Management = "rotation, two weeks a month", Note = "invented place",
        },
        new("Two Windmills", "House Side", "H")
        {
            Lines = 2, NestsPerLine = 6, Eaten = 3, LostByLine = [1, 2], ClumpsPerAcre = 480, Cameras = 2, SetFrom = new DateOnly(2026, 5, 20),
            Block = (0, 0), Management = "year-round, light", Note = "invented place",
        },
        new("Two Windmills", "Far Side", "W")
        {
            Lines = 2, NestsPerLine = 6, Eaten = 7, Trampled = 1, LostByLine = [3, 5], ClumpsPerAcre = 460, Cameras = 2, SetFrom = new DateOnly(2026, 5, 20),
            Block = (1, 0), Management = "year-round, light", Note = "invented place",
        },
    ];

    /// <summary>The pasture that cattle are let into.</summary>
    internal bool HasCattle => Name == "East Pasture";

    /// <summary>The ranch whose records hold dates alone, without times of day.</summary>
    internal bool HasTimes => Property != "Two Windmills";
}

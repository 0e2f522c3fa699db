namespace Tussock.Simulation;

/// <summary>How a nest of an invented season ends.</summary>
internal enum DemoEnd
{
    Whole,
    Eaten,
    Trampled,
    Flooded,
    Spoiled,
    NotFound,
}

/// <summary>One line of an invented season, with what is true of it.</summary>
internal sealed class DemoLine(DemoPasture pasture, int number, bool isPlanned)
{
    internal DemoPasture Pasture { get; } = pasture;

    internal int Number { get; } = number;

    internal string Name { get; } = pasture.Prefix + Words.Numbers.Whole(number);

    internal bool IsPlanned { get; } = isPlanned;

    internal required DateOnly SetOn { get; init; }

    internal required DemoWalker Walker { get; init; }

    internal required (double EastM, double NorthM) Start { get; init; }

    internal required double BearingDeg { get; init; }

    /// <summary>Planned days of the two checks; the first is 0 when it was missed.</summary>
    internal required (int First, int Second) Checks { get; init; }

    internal List<DemoNest> Nests { get; } = [];

    internal double StepM => Walker.StepM;

    /// <summary>Where the flag with this number stands, 0 being the start, in metres on the property's plane.</summary>
    internal (double EastM, double NorthM) Flag(int flag) => Along(Start, BearingDeg, flag * DemoGround.StepsBetween * StepM);

    internal static (double EastM, double NorthM) Along((double EastM, double NorthM) from, double bearingDeg, double metres)
    {
        var angle = bearingDeg * Math.PI / 180;
        return (from.EastM + (Math.Sin(angle) * metres), from.NorthM + (Math.Cos(angle) * metres));
    }
}

/// <summary>One station of an invented season, with what is true of it.</summary>
internal sealed class DemoNest(DemoLine line, int number, string cover)
{
    internal DemoLine Line { get; } = line;

    internal int Number { get; } = number;

    internal string Cover { get; } = cover;

    internal bool HasClump { get; set; } = true;

    internal DemoEnd End { get; set; }

    /// <summary>Day since set-out on which it was lost or spoiled; 0 when it was neither.</summary>
    internal double EndDay { get; set; }

    internal string Culprit { get; set; } = "";

    internal bool HasCamera { get; set; }

    /// <summary>Whether it was not found at first and then found whole by a second search.</summary>
    internal bool IsHardToFind { get; set; }

    internal bool IsSet => HasClump && !Line.IsPlanned;

    internal bool IsLost => End is DemoEnd.Eaten or DemoEnd.Trampled or DemoEnd.Flooded;

    /// <summary>Day of the visit that found the end; 0 when no visit did.</summary>
    internal int EndSeenOn => EndDay <= 0 ? 0 : Line.Checks.First > EndDay ? Line.Checks.First : Line.Checks.Second;
}

/// <summary>Somebody who walks lines in an invented season.</summary>
internal sealed record DemoWalker(string Name, double StepM, double ArmSpanM)
{
    internal static DemoWalker One { get; } = new("crew 1", 0.76, 1.8);

    internal static DemoWalker Two { get; } = new("crew 2", 0.71, 1.68);
}

using System.Collections.Immutable;

namespace Tussock.Layout;

/// <summary>What is to be laid out.</summary>
/// <param name="Areas">The land. Areas of one pasture are its strata.</param>
/// <param name="Rules">What is asked.</param>
public sealed record LayoutRequest(ImmutableArray<LayoutArea> Areas, LayoutRules Rules)
{
    /// <summary>What lines keep away from.</summary>
    public ImmutableArray<LayoutZone> Zones { get; init; } = [];

    /// <summary>Lines of a former year that are taken up again; they count among the lines of their pasture.</summary>
    public ImmutableArray<FormerLine> Former { get; init; } = [];

    /// <summary>Lasting names that other lines of this land have: a new line gets none of them, so that a name means one place in every year.</summary>
    public ImmutableArray<string> Taken { get; init; } = [];
}

/// <summary>Land on which not all lines found room.</summary>
/// <param name="Area">The land.</param>
/// <param name="Asked">New lines asked for.</param>
/// <param name="Fits">Lines that found room.</param>
/// <param name="Why">What stood in the way.</param>
/// <param name="WouldFit">What would fit, each by itself; may be empty.</param>
public sealed record LayoutShortfall(LayoutArea Area, int Asked, int Fits, Phrase Why, ImmutableArray<Phrase> WouldFit);

/// <summary>A layout that was drawn.</summary>
/// <param name="Lines">The lines, former ones first, then in the order in which they were drawn, pasture by pasture.</param>
/// <param name="Shortfalls">Land on which not all lines found room; empty when all did.</param>
/// <param name="Remarks">What is worth knowing, such as a former line that leaves its pasture.</param>
public sealed record DrawnLayout(ImmutableArray<PlannedLine> Lines, ImmutableArray<LayoutShortfall> Shortfalls, ImmutableArray<Phrase> Remarks);

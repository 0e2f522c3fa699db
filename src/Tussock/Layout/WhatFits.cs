using System.Collections.Immutable;
using Tussock.Land;

namespace Tussock.Layout;

/// <summary>What would fit on land where not all lines found room: one thing asked less of at a time.</summary>
internal sealed class WhatFits(LayoutArea area, LayoutRequest request, IReadOnlyList<ImmutableArray<Position>> others, ulong seed, CancellationToken cancel)
{
    private const double NearestM = 5;
    private const int Attempts = 3;
    private readonly LayoutRules rules = request.Rules;

    /// <summary>The shortfall, with what would fit.</summary>
    internal LayoutShortfall Of(Searched found, Ground ground, int asked)
    {
        var ways = ImmutableArray.CreateBuilder<Phrase>();
        if (ground.IsLand && ground.IsFlatEnough && (found.HasStarts || rules.EdgeM > 0))
        {
            if (found.Lines.Length > 0) ways.Add(Phrase.Of("plan.fits_lines", ("lines", found.Lines.Length)));
            if (!rules.MayBend && rules.GradientDeg is null && Fits(rules with { MayBend = true }, asked)) ways.Add(Phrase.Of("plan.fits_bent"));
            if (found.HasStarts && Stations(asked) is > 0 and var stations) ways.Add(Phrase.Of("plan.fits_stations", ("lines", asked), ("stations", stations)));
            if (found.HasRoom && Separation(asked) is { } separation) ways.Add(Phrase.Of("plan.fits_separation", ("lines", asked), ("metres", separation)));
            if (rules.EdgeM > 0 && Fits(rules with { EdgeM = 0 }, asked)) ways.Add(Phrase.Of("plan.fits_edge", ("lines", asked)));
            if (rules.GradientDeg is not null && Fits(rules with { GradientDeg = null }, asked)) ways.Add(Phrase.Of("plan.fits_any_bearing", ("lines", asked)));
        }

        return new LayoutShortfall(area, asked, found.Lines.Length, Why(found, ground), ways.ToImmutable());
    }

    private Phrase Why(Searched found, Ground ground)
    {
        var length = Math.Round(rules.Stations * rules.BetweenM);
        if (!ground.IsLand) return Phrase.Of("plan.why_no_land");
        if (!ground.IsFlatEnough) return Phrase.Of("plan.why_too_large", ("error", LayoutPlane.MostErrorShare));
        if (!found.HasStarts) return Phrase.Of("plan.why_no_start");
        return found.HasRoom ? Phrase.Of("plan.why_crowded", ("length", length), ("metres", rules.SeparationM)) : Phrase.Of("plan.why_no_line", ("length", length));
    }

    /// <summary>The most stations a line with which all lines fit; 0 when not even one does.</summary>
    private int Stations(int asked)
    {
        var (fits, doesNot) = (0, rules.Stations);
        while (doesNot - fits > 1)
        {
            var middle = (fits + doesNot) / 2;
            if (Fits(rules with { Stations = middle }, asked)) fits = middle;
            else doesNot = middle;
        }

        return fits;
    }

    private double? Separation(int asked)
    {
        foreach (var share in (double[])[0.75, 0.5, 0.25])
        {
            var metres = Math.Floor(rules.SeparationM * share / NearestM) * NearestM;
            if (metres >= NearestM && Fits(rules with { SeparationM = metres }, asked)) return metres;
        }

        return null;
    }

    private bool Fits(LayoutRules other, int asked) => new LineSearch(new Ground(area, request.Zones, other.EdgeM), other, others, seed, cancel).For(asked, Attempts).Lines.Length == asked;
}

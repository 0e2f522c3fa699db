using Tussock.Land;
using Tussock.Words;

namespace Tussock.Wayfinding;

/// <summary>How far a compass points beside true north at a place and on a day.</summary>
/// <param name="DegreesEast">Degrees from true to magnetic north, east positive: true = magnetic + this.</param>
/// <param name="ChangePerYear">Degrees a year by which it moves.</param>
/// <param name="SdDeg">Standard deviation of what the model leaves out, degrees.</param>
/// <remarks>May be shared between threads.</remarks>
public readonly record struct Declination(double DegreesEast, double ChangePerYear, double SdDeg)
{
    /// <summary>Below this horizontal strength, in nT, a compass is no use: the blackout zones round the magnetic poles.</summary>
    public const double BlackoutNt = 2000;

    private const double HeightKm = 0;

    /// <summary>The declination of a place on a day.</summary>
    /// <param name="at">The place; height above the ellipsoid 0 m (a kilometre changes less than 0.01° outside the polar lands).</param>
    /// <param name="on">The day.</param>
    /// <returns>Degrees; a reason when the day is outside the years of the model or the place in a blackout zone.</returns>
    /// <source>World Magnetic Model 2025, see <see cref="MagneticModel"/>; blackout zone and error model √(0.26² + (5417/H)²) degrees from its report, from memory.</source>
    /// <check>wmm2025</check>
    public static Answer<Declination> Of(Position at, DateOnly on)
    {
        var model = MagneticModel.Current;
        var year = DecimalYear(on);
        if (year < model.Epoch || year > model.End) return NoAnswer.Because("wayback.outside_model", ("date", on), ("from", Numbers.Fixed(model.Epoch, 0)), ("to", Numbers.Fixed(model.End, 0)));
        var field = model.At(at, HeightKm, year);
        if (field.HorizontalNt < BlackoutNt) return NoAnswer.Because("wayback.blackout");
        var early = Math.Clamp(year - 0.5, model.Epoch, model.End - 1);
        var change = Math.IEEERemainder(model.At(at, HeightKm, early + 1).DeclinationDeg - model.At(at, HeightKm, early).DeclinationDeg, 360);
        return new Declination(field.DeclinationDeg, change, Math.Sqrt((0.26 * 0.26) + (5417 / field.HorizontalNt * (5417 / field.HorizontalNt))));
    }

    /// <summary>A day as a year with a fraction; its beginning.</summary>
    internal static double DecimalYear(DateOnly on) => on.Year + ((on.DayOfYear - 1) / (DateTime.IsLeapYear(on.Year) ? 366.0 : 365.0));
}

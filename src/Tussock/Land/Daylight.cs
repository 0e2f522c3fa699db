namespace Tussock.Land;

/// <summary>When the sun rises and sets at a place.</summary>
/// <param name="Rises">Instant, in UTC.</param>
/// <param name="Sets">Instant, in UTC.</param>
public readonly record struct Daylight(DateTimeOffset Rises, DateTimeOffset Sets)
{
    /// <summary>Altitude of the sun's middle when its upper edge touches the horizon: refraction 34′ and a radius of 16′.</summary>
    private const double HorizonDeg = -50.0 / 60;

    private const double RadiansADegree = Math.PI / 180;

    /// <summary>Julian date of 2000-01-01 12:00 as days of the common era, so that a day number counts from there.</summary>
    private static readonly int Epoch = new DateOnly(2000, 1, 1).DayNumber;

    /// <summary>Sunrise and sunset of a day.</summary>
    /// <param name="place">Where.</param>
    /// <param name="on">The date on the land: the day whose noon by the sun falls on it.</param>
    /// <returns>Both instants, right to about a minute where the horizon is flat; a reason where the sun does not rise, or does not set, on that day.</returns>
    /// <remarks>The sun's place is taken anew at its own rising and setting. Hills, height and weather move what is seen by minutes.</remarks>
    /// <source>The Astronomical Almanac, page C5, low-precision formulas for the Sun's coordinates (0.01° from 1950 to 2050; from memory, to be confirmed); the hour angle of an altitude is textbook trigonometry.</source>
    /// <check>daylight</check>
    public static Answer<Daylight> Of(Position place, DateOnly on)
    {
        var noon = (double)(on.DayNumber - Epoch) - (place.Longitude / 360);
        var (rises, sets) = (noon, noon);
        for (var round = 0; round < 3; round++)
        {
            if (HourAngle(place, rises) is not { } morning || HourAngle(place, sets) is not { } evening) return NoAnswer.Because("workdays.no_sun", ("day", on));
            rises = noon - (EquationOfTime(rises) / 360) - (morning / 360);
            sets = noon - (EquationOfTime(sets) / 360) + (evening / 360);
        }

        return new Daylight(At(rises), At(sets));
    }

    /// <summary>Degrees between the sun on the horizon and the sun at its highest; null where it never meets the horizon.</summary>
    private static double? HourAngle(Position place, double days)
    {
        var (sine, cosine) = Math.SinCos(place.Latitude * RadiansADegree);
        var declination = Sun(days).Declination;
        var cosHour = (Math.Sin(HorizonDeg * RadiansADegree) - (sine * Math.Sin(declination))) / (cosine * Math.Cos(declination));
        return cosHour is >= -1 and <= 1 ? Math.Acos(cosHour) / RadiansADegree : null;
    }

    /// <summary>Degrees by which the sun is ahead of the clock.</summary>
    private static double EquationOfTime(double days)
    {
        var (longitude, ascension, _) = Sun(days);
        return Math.IEEERemainder(longitude - ascension, 360);
    }

    private static (double MeanLongitudeDeg, double AscensionDeg, double Declination) Sun(double days)
    {
        var mean = 280.460 + (0.9856474 * days);
        var anomaly = (357.528 + (0.9856003 * days)) * RadiansADegree;
        var ecliptic = (mean + (1.915 * Math.Sin(anomaly)) + (0.020 * Math.Sin(2 * anomaly))) * RadiansADegree;
        var tilt = (23.439 - (0.0000004 * days)) * RadiansADegree;
        return (mean, Math.Atan2(Math.Cos(tilt) * Math.Sin(ecliptic), Math.Cos(ecliptic)) / RadiansADegree, Math.Asin(Math.Sin(tilt) * Math.Sin(ecliptic)));
    }

    private static DateTimeOffset At(double days) => new DateTimeOffset(2000, 1, 1, 12, 0, 0, TimeSpan.Zero).AddDays(days);
}

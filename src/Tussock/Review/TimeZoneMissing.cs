namespace Tussock.Review;

/// <summary>A season without a time zone: times of cameras and phones can't be compared with those of other seasons.</summary>
internal static class TimeZoneMissing
{
    internal static void Look(Inspection on)
    {
        if (on.Season.Settings.TimeZone.Length == 0) on.Add("time_zone_missing", Severity.Note, new Place("datapackage.json", null, "season.time_zone"));
    }
}

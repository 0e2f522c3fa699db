using Tussock.Records;

namespace Tussock.App.Commands;

/// <summary>The date on a season's land: late in the evening it is another one than at UTC, or where the computer stands.</summary>
internal static class SeasonDay
{
    /// <summary>Today by the season's time zone; without one that this computer knows, by the computer's own.</summary>
    internal static DateOnly Of(SeasonSettings? settings, TimeProvider clock) => DateOnly.FromDateTime(TimeZoneInfo.ConvertTime(clock.GetUtcNow(), Zone(settings) ?? clock.LocalTimeZone).DateTime);

    /// <summary>The date that a document names as its own: as it was typed, else today's.</summary>
    internal static DateOnly Of(SeasonSettings settings, DateTimeOffset? typed) => typed is { } at ? DateOnly.FromDateTime(at.DateTime) : Of(settings, TimeProvider.System);

    /// <summary>The season's time zone; null where it has none, or one that this computer doesn't know.</summary>
    internal static TimeZoneInfo? Zone(SeasonSettings? settings) => settings?.TimeZone is { Length: > 0 } name && TimeZoneInfo.TryFindSystemTimeZoneById(name, out var zone) ? zone : null;
}

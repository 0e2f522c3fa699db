using System.Collections.Immutable;
using Tussock.Records;
using Tussock.Store;
using Tussock.Years;

namespace Tussock.App.Commands;

/// <summary>Takes from every season of DATA what stands beside other years, one season after the other, so that a large file needs the room of a few seasons.</summary>
internal static class YearsSource
{
    /// <summary>What each season says of each property and pasture; seasons that can't be read by name, with the first thing that stops them.</summary>
    /// <param name="data">DATA as typed.</param>
    /// <param name="withParity">Whether parity densities are computed.</param>
    /// <param name="progress">Told the share of seasons done.</param>
    /// <param name="cancel">Stops the work.</param>
    internal static YearsRead Read(string data, bool withParity, Action<double> progress, CancellationToken cancel)
    {
        if (SeasonSource.IsFolder(data) || !DataFile.IsThere(data))
        {
            var (season, problems) = SeasonSource.Season(data, null, cancel);
            return season is null ? new YearsRead([], [], problems) : new YearsRead(PastureYears.Of(season, withParity), [], []);
        }

        var file = DataFile.OpenToRead(data);
        var names = file.Seasons();
        if (names.IsEmpty) return new YearsRead([], [], SeasonSource.Chosen(file, null).Problems);
        var read = file.OfEach(
            [.. names.Select(n => n.Name)],
            tables => SeasonReading.Read(tables, out var wrong) is { } season ? (Years: PastureYears.Of(season, withParity), First: (Problem?)null) : (Years: [], First: wrong[0]),
            progress,
            cancel);
        return new YearsRead([.. read.SelectMany(r => r.Years)], [.. names.Zip(read).Where(r => r.Second.First is not null).Select(r => (r.First.Name, r.Second.First!))], []);
    }
}

/// <summary>What was read of the seasons of DATA.</summary>
/// <param name="Years">What each season says of each property and pasture.</param>
/// <param name="Stopped">Seasons left out, with the first thing that stops them.</param>
/// <param name="Problems">What stops everything.</param>
internal sealed record YearsRead(ImmutableArray<PastureYear> Years, ImmutableArray<(string Season, Problem First)> Stopped, ImmutableArray<Problem> Problems);

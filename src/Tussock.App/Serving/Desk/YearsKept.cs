using System.Collections.Immutable;
using System.Text.Json;
using Tussock.App.Commands;
using Tussock.Desk;
using Tussock.Reports;
using Tussock.Store;
using Tussock.Years;

namespace Tussock.App.Serving.Desk;

/// <summary>What each season says of its properties and pastures, kept in a file beside the data, so that a desk that is started again reads only the seasons that have moved.</summary>
/// <remarks>It holds nothing that the data file does not; without it everything is computed anew. Of another version of the program it counts for nothing.</remarks>
internal sealed class YearsKept(DataFile file)
{
    private const string Ending = ".years.json";
    private static readonly JsonSerializerOptions Options = new() { IncludeFields = true };

    /// <summary>The build that computed: another one may compute otherwise, whatever it is called.</summary>
    private static string Version { get; } = SharedOptions.Version + " " + typeof(PastureYears).Module.ModuleVersionId;

    /// <summary>Whether something is kept.</summary>
    internal bool IsThere => Place is { } path && File.Exists(path);

    /// <summary>The kept seasons that have not moved since; empty where there is nothing to go by.</summary>
    internal ImmutableDictionary<Guid, YearShown> Read()
    {
        if (Place is not { } path || !File.Exists(path)) return ImmutableDictionary<Guid, YearShown>.Empty;
        try
        {
            using var stream = File.OpenRead(path);
            if (JsonSerializer.Deserialize<Kept>(stream, Options) is not { } kept || kept.Version != Version || kept.Seasons.IsDefault || file.MovedSince((kept.Position, kept.Change)) is not { } moved) return ImmutableDictionary<Guid, YearShown>.Empty;
            return kept.Seasons.Where(s => !moved.Contains(s.Id)).ToImmutableDictionary(s => s.Id, s => s.Year);
        }
        catch (Exception broken) when (broken is JsonException or IOException or UnauthorizedAccessException or InvalidOperationException or ArgumentException or NotSupportedException)
        {
            // Half a file, or one of somebody else: it is only a shortcut.
            return ImmutableDictionary<Guid, YearShown>.Empty;
        }
    }

    /// <summary>Keeps what is known at a state of the file.</summary>
    internal void Write((long Position, Guid Change) at, ImmutableDictionary<Guid, YearShown> seasons)
    {
        if (Place is not { } path) return;
        try
        {
            var kept = new Kept(Version, at.Position, at.Change, [.. seasons.OrderBy(s => s.Key).Select(s => (s.Key, s.Value))]);
            ReportFiles.Write(Path.GetDirectoryName(Path.GetFullPath(path))!, Path.GetFileName(path), JsonSerializer.SerializeToUtf8Bytes(kept, Options));
        }
        catch (Exception full) when (full is IOException or UnauthorizedAccessException)
        {
            // A full disk, a folder that may not be written to: the next start takes longer, nothing else.
        }
    }

    /// <summary>Where it lies; null where a server has no folder.</summary>
    private string? Place
    {
        get
        {
            try
            {
                return file.Beside(Ending);
            }
            catch (DataFileException)
            {
                // A database without a folder of its own keeps nothing beside it.
                return null;
            }
        }
    }

    private sealed record Kept(string Version, long Position, Guid Change, ImmutableArray<(Guid Id, YearShown Year)> Seasons);
}

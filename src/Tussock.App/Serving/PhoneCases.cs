using System.Collections.Immutable;
using System.Security.Cryptography;
using Tussock.Evidence.Practice;
using Tussock.Fieldwork;
using Tussock.Records;
using Tussock.Results;
using Tussock.Store;
using Tussock.Store.Media;

namespace Tussock.App.Serving;

/// <summary>The cases from here that phones of a data file take along, of all its seasons; computed anew only for seasons that have moved. May be shared between threads.</summary>
internal sealed class PhoneCases(DataFile file, MediaStore media)
{
    private const int Side = 640, SmallSide = 320, MostBytes = 150_000;
    private const string Views = "practice", SmallViews = "small";
    private readonly Lock gate = new();
    private ImmutableDictionary<Guid, SeasonCases> known = ImmutableDictionary<Guid, SeasonCases>.Empty;
    private ImmutableDictionary<Guid, bool> chosen = ImmutableDictionary<Guid, bool>.Empty;
    private long at = -1;
    private FieldCases last = FieldCases.None;

    /// <summary>The cases as they stand now.</summary>
    internal FieldCases Now()
    {
        lock (gate)
        {
            var position = file.Position;
            if (at == position) return last;
            var changes = at < 0 ? [] : file.Since(at);
            known = known.RemoveRange(changes.Select(c => c.Season));
            chosen = chosen.RemoveRange(changes.Where(c => c.Kind == RecordKind.Media.Name).Select(c => c.Season));
            ImmutableArray<SeasonEntry> seasons = [.. ServedSeasons.NewestFirst(file.Seasons())];
            chosen = seasons.ToImmutableDictionary(s => s.Id, s => chosen.TryGetValue(s.Id, out var has) ? has : SeasonCases.HasChosen(file.Tables(s.Name)));
            // Most data files have none: then nobody pays for reading all seasons at each change.
            var cases = chosen.Values.Any(has => has) ? SeasonCases.Together([.. seasons.Select(Known)]) : [];
            (last, at) = (Shown(cases), position);
            return last;
        }
    }

    private SeasonCases Known(SeasonEntry season)
    {
        if (known.TryGetValue(season.Id, out var same)) return same;
        var cases = ReadableSeason.Of(file.Tables(season.Name)) is { } read ? SeasonCases.Of(read) : SeasonCases.None;
        known = known.Add(season.Id, cases);
        return cases;
    }

    private FieldCases Shown(ImmutableArray<LocalCase> cases)
    {
        var all = ImmutableSortedDictionary.CreateBuilder<string, ReadOnlyMemory<byte>>(StringComparer.Ordinal);
        var shown = ImmutableArray.CreateBuilder<(LocalCase, ImmutableArray<string>)>();
        foreach (var one in cases)
        {
            var views = ImmutableArray.CreateBuilder<string>();
            foreach (var bytes in one.Photos.Select(View).OfType<byte[]>())
            {
                var hash = Convert.ToHexStringLower(SHA256.HashData(bytes));
                all[hash] = bytes;
                views.Add(hash);
            }

            if (views.Count > 0) shown.Add((one, views.ToImmutable()));
        }

        return new FieldCases(shown.ToImmutable(), all.ToImmutable());
    }

    private byte[]? View(string hash)
    {
        if (media.PathOf(hash) is not { } path) return null;
        return KeptViews.Of(path, Views, Side) is { Length: <= MostBytes } view ? view : KeptViews.Of(path, SmallViews, SmallSide) is { Length: <= MostBytes } small ? small : null;
    }
}

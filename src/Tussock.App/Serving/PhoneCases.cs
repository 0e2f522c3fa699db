using System.Collections.Immutable;
using System.Security.Cryptography;
using Tussock.Evidence.Practice;
using Tussock.Fieldwork;
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
    private long at = -1;
    private FieldCases last = FieldCases.None;

    /// <summary>The cases as they stand now.</summary>
    internal FieldCases Now()
    {
        lock (gate)
        {
            var position = file.Position;
            if (at == position) return last;
            var moved = at < 0 ? [] : file.Since(at).Select(c => c.Season).ToHashSet();
            ImmutableArray<SeasonEntry> seasons = [.. ServedSeasons.NewestFirst(file.Seasons())];
            known = seasons.ToImmutableDictionary(s => s.Id, s => !moved.Contains(s.Id) && known.TryGetValue(s.Id, out var same) ? same : Read(s));
            (last, at) = (Shown(SeasonCases.Together([.. seasons.Select(s => known[s.Id])])), position);
            return last;
        }
    }

    private SeasonCases Read(SeasonEntry season) => ReadableSeason.Of(file.Tables(season.Name)) is { } read ? SeasonCases.Of(read) : SeasonCases.None;

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

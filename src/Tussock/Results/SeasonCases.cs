using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using Tussock.Evidence;
using Tussock.Evidence.Practice;
using Tussock.Fates;
using Tussock.Records;

namespace Tussock.Results;

/// <summary>A photo of a nest that may be shown to people who practise.</summary>
/// <param name="Record">Id of its record; empty where the season has none.</param>
/// <param name="Hash">SHA-256.</param>
/// <param name="When">When it was taken, or the visit's day, as written.</param>
/// <param name="IsChosen">Whether a lead chose it.</param>
public sealed record CasePhoto(string Record, string Hash, string When, bool IsChosen);

/// <summary>A nest whose culprit a camera confirmed, and what it lacks to be a case.</summary>
/// <param name="Nest">The nest.</param>
/// <param name="Culprit">Token of the class.</param>
/// <param name="Signs">Signs with a value that can be shown.</param>
/// <param name="Photos">Photos matched to the nest; none from its camera, which show who it was, and none of sheets.</param>
/// <param name="Missing">What it lacks; null when a lead may choose it.</param>
public sealed record CaseOffered(Nest Nest, string Culprit, int Signs, ImmutableArray<CasePhoto> Photos, Phrase? Missing)
{
    /// <summary>Whether it is a case.</summary>
    public bool IsCase => Missing is null && Photos.Any(p => p.IsChosen);
}

/// <summary>The nests of a season that can become cases to practise on, and what the season teaches about others.</summary>
/// <remarks>Holds no more of the season than that. May be shared between threads.</remarks>
public sealed class SeasonCases
{
    /// <summary>Name of the column of media that says a photo may be shown; <c>yes</c> or nothing.</summary>
    public const string Column = "practice";

    private const string Chosen = "yes";

    /// <summary>Most cases that go to a phone, and most photos of each.</summary>
    public const int MostCases = 12, MostPhotos = 2;

    /// <summary>Fewest signs that make a case.</summary>
    public const int FewestSigns = 3;

    private readonly ImmutableArray<(NestEvidence Evidence, string Property, string Id, ImmutableArray<string> Photos)> losses;
    private readonly ImmutableHashSet<string> properties;

    private SeasonCases(ImmutableArray<CaseOffered> offered, ImmutableArray<(NestEvidence, string, string, ImmutableArray<string>)> losses, ImmutableHashSet<string> properties) =>
        (Offered, this.losses, this.properties) = (offered, losses, properties);

    /// <summary>Nothing.</summary>
    public static SeasonCases None { get; } = new([], [], []);

    /// <summary>Nests whose culprit a camera confirmed, in the order of lines and nests.</summary>
    public ImmutableArray<CaseOffered> Offered { get; }

    /// <summary>Whether any photo of a season was chosen, without reading more of it.</summary>
    public static bool HasChosen(SeasonTables tables)
    {
        ArgumentNullException.ThrowIfNull(tables);
        return tables.Table(RecordKind.Media) is { } table && table.IndexOf(Column) is var at and >= 0 && table.Rows.Any(r => at < r.Cells.Length && r.Cells[at].Trim() == Chosen);
    }

    /// <summary>What a season has.</summary>
    /// <param name="season">The season; of one for practice nothing is taken.</param>
    public static SeasonCases Of(Season season)
    {
        ArgumentNullException.ThrowIfNull(season);
        if (season.Settings.IsPractice) return None;
        var photos = Photos(season);
        var offered = ImmutableArray.CreateBuilder<CaseOffered>();
        var taught = ImmutableArray.CreateBuilder<(NestEvidence, string, string, ImmutableArray<string>)>();
        foreach (var loss in LossEvidence.Of(season, SeasonFates.Of(season)).OrderBy(l => l.Fate.Nest.Transect.Name, StringComparer.Ordinal).ThenBy(l => l.Fate.Nest.Number))
        {
            var nest = loss.Fate.Nest;
            ImmutableArray<string> shown = [];
            if (loss.Evidence.Confirmed is { } culprit)
            {
                var signs = LocalCase.Shown(loss.Evidence.Signs).Select(s => s.Sign).Distinct(StringComparer.Ordinal).Count();
                ImmutableArray<CasePhoto> own = [.. photos[(nest.Transect.Name, Words.Numbers.Whole(nest.Number))]];
                var one = new CaseOffered(nest, culprit, signs, own, Missing(loss, signs, own));
                offered.Add(one);
                if (one.IsCase) shown = [.. own.Where(p => p.IsChosen).Select(p => p.Hash).Take(MostPhotos)];
            }

            taught.Add((loss.Evidence, nest.Transect.Pasture.Property, Id(season.Settings.Name, nest), shown));
        }

        return new SeasonCases(offered.ToImmutable(), taught.ToImmutable(), [.. season.Pastures.Select(p => p.Property)]);
    }

    /// <summary>The cases of several seasons, each read by what all other nests taught: those of its season fully, those of others at the usual discount.</summary>
    /// <param name="seasons">The seasons, those first whose cases go first when there are too many.</param>
    /// <returns>At most <see cref="MostCases"/>.</returns>
    public static ImmutableArray<LocalCase> Together(IReadOnlyList<SeasonCases> seasons)
    {
        ArgumentNullException.ThrowIfNull(seasons);
        var cases = seasons.SelectMany((s, at) => s.losses.Select((l, row) => (Season: at, Row: row, Loss: l))).Where(c => !c.Loss.Photos.IsEmpty).Take(MostCases);
        return [.. cases.Select(c => LocalCase.Of(c.Loss.Id, c.Loss.Photos, c.Loss.Evidence,
            seasons[c.Season].losses.Where((_, row) => row != c.Row).Select(l => l.Evidence),
            seasons.Where((_, at) => at != c.Season).SelectMany(s => s.losses).Select(l => OtherSeason.Counting(l.Evidence, l.Property, seasons[c.Season].properties))))];
    }

    private static Phrase? Missing(LossEvidence loss, int signs, ImmutableArray<CasePhoto> photos) =>
        loss.Visitors == Visitors.SeveralSeen ? Phrase.Of("cases.missing_several")
        : signs < FewestSigns ? Phrase.Of("cases.missing_signs", ("found", signs), ("fewest", FewestSigns))
        : photos.IsEmpty ? Phrase.Of("cases.missing_photos") : null;

    private static ILookup<(string Transect, string Nest), CasePhoto> Photos(Season season)
    {
        var table = season.Tables.Table(RecordKind.Media);
        string Text(RecordRow row, string column) => table!.IndexOf(column) is var at and >= 0 && at < row.Cells.Length ? row.Cells[at].Trim() : "";
        return (table?.Rows ?? [])
            .Where(r => Text(r, "type").StartsWith("image/", StringComparison.Ordinal) && Text(r, "matched_by") != "camera" && Text(r, "deployment").Length == 0 && Text(r, "sheet").Length == 0)
            .ToLookup(r => (Text(r, "transect"), Text(r, "nest")), r => new CasePhoto(Text(r, "id"), Text(r, "media"), Text(r, "taken_at") is { Length: > 0 } at ? at : Text(r, "visited_on"), Text(r, Column) == Chosen));
    }

    private static string Id(string season, Nest nest) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(season + "\n" + nest.Transect.Name + "\n" + Words.Numbers.Whole(nest.Number))))[..16];
}

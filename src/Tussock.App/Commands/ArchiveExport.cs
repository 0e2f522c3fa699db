using System.Collections.Immutable;
using Tussock.Exchange.Archive;
using Tussock.Records;

namespace Tussock.App.Commands;

/// <summary><c>tussock export DATA OUT --as archive</c>: one or all seasons as an archive to be published; coarsened unless asked otherwise.</summary>
internal static class ArchiveExport
{
    /// <summary>What --as calls it.</summary>
    internal const string Form = "archive";

    internal static int Run(Screen screen, MapExportRequest request, string? licence, CancellationToken cancel)
    {
        var (seasons, problems) = Seasons(request, cancel);
        if (seasons.IsEmpty) return screen.Refuse(problems);
        var archive = ArchiveWriter.Of(seasons, request.IsExact, licence, request.At, screen.Words);
        var wrong = ArchiveWriter.Write(archive, request.Path, request.Overwrite);
        if (!wrong.IsEmpty) return screen.Refuse(wrong);
        Tell(screen, archive);
        if (request.IsExact && !archive.IsExact) screen.Err.WriteLine(screen.Words.Say("archive.was_coarse"));
        if (string.IsNullOrWhiteSpace(licence)) screen.Err.WriteLine(screen.Words.Say("archive.no_licence_todo"));
        var note = Phrase.Of(archive.IsExact ? "archive.written_exact" : "archive.written_coarse");
        if (archive.IsExact) screen.Err.WriteLine(screen.Words.Say(note));
        screen.Out.WriteLine(screen.Words.Say(Phrase.Of("archive.written", ("path", request.Path), ("seasons", seasons.Length), ("events", archive.Events), ("occurrences", archive.Occurrences), ("note", archive.IsExact ? "" : note))).TrimEnd());
        return Exit.Done;
    }

    /// <summary>The words that go out as somebody wrote them: a program finds names that it knows, and no others.</summary>
    private static void Tell(Screen screen, WrittenArchive archive)
    {
        if (archive.Words.IsEmpty) return;
        screen.Out.WriteLine(screen.Words.Say("archive.words"));
        foreach (var (column, words) in archive.Words)
        {
            screen.Out.WriteLine("  " + column + ": " + string.Join("; ", words.Select(w => w.ReplaceLineEndings(" "))));
        }
    }

    /// <summary>The season that is meant, or with <c>--season all</c> each of a data file.</summary>
    private static (ImmutableArray<Season> Seasons, ImmutableArray<Problem> Problems) Seasons(MapExportRequest request, CancellationToken cancel)
    {
        if (request.Season != PooledYears.All || SeasonSource.HoldsOne(request.Data))
        {
            var (season, problems) = SeasonSource.Season(request.Data, request.Season, cancel);
            // Nothing in a season for practice happened: published, it would be taken for a study.
            if (season is { Settings.IsPractice: true }) return ([], [Practice(request.Data)]);
            return (season is null ? [] : [season], problems);
        }

        var (all, wrong) = SeasonSource.All(request.Data, cancel);
        var (read, odd) = (ImmutableArray.CreateBuilder<Season>(), wrong.ToBuilder());
        foreach (var tables in all)
        {
            if (SeasonReading.Read(tables, out var found) is { } season && !season.Settings.IsPractice) read.Add(season);
            odd.AddRange(found);
        }

        if (odd.Count == 0 && read.Count == 0) odd.Add(Practice(request.Data));
        return odd.Count > 0 ? ([], odd.ToImmutable()) : (read.ToImmutable(), []);
    }

    private static Problem Practice(string data) => new("practice", Severity.Stop, new Place(data), Phrase.Of("archive.practice"), Phrase.Of("archive.practice_todo"));
}

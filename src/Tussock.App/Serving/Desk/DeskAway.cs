using System.Globalization;
using System.Text;
using Microsoft.AspNetCore.Http;
using Tussock.App.Commands;
using Tussock.Desk;
using Tussock.Exchange.SeasonFolder;
using Tussock.Reports;
using Tussock.Reports.Technical;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.App.Serving.Desk;

/// <summary>What somebody takes away from a chapter of the results: a picture as SVG, its numbers as CSV.</summary>
internal static class DeskAway
{
    internal const string Path = "/results/";

    /// <summary>Page of the years together.</summary>
    internal const string Together = "/years/together";

    internal static ReportMaking Making(DeskAnswer answer) => new(SharedOptions.Version, new ResultsOptions().Seed, answer.Today, answer.ResultsAt);

    internal static async Task AnswerAsync(HttpContext context, string chapter, string file, DeskAnswer answer, Catalogue words)
    {
        // A stranger's chapter would be answered with the first one's numbers.
        if (answer.Numbers is not { } numbers || !TechnicalReport.ChapterKeys.Any(k => TechnicalReport.Anchor(k) == chapter)) throw new RefusedRequestException(StatusCodes.Status404NotFound, "serve.nothing_here");
        if (file == "numbers.csv" && ChapterTable.Of(chapter, numbers, words.In(UnitChoice.Both)) is { } table)
        {
            await FileAsync(context, chapter + ".csv", "text/csv; charset=utf-8", CsvText.OfCells(table.Columns, table.Rows));
            return;
        }

        await PictureAsync(context, chapter, file, n => ChapterPictures.Of(ChapterText.Of(chapter, numbers, Making(answer), words), n));
    }

    /// <summary>The same of the years together.</summary>
    internal static Task AnswerAsync(HttpContext context, string file, YearsTogether known, Catalogue words)
    {
        if (file == "numbers.csv") return FileAsync(context, "years-together.csv", "text/csv; charset=utf-8", CsvText.OfCells(TogetherAway.Columns, TogetherAway.Rows(known, words)));
        return PictureAsync(context, "years-together", file, n => ChapterPictures.Of(string.Concat(TogetherAway.Pictures(known, words).Select(p => p.Svg)), n));
    }

    /// <summary>Hands out the picture whose number a file is named by.</summary>
    private static Task PictureAsync(HttpContext context, string of, string file, Func<int, string?> picture)
    {
        var number = file.EndsWith(".svg", StringComparison.Ordinal) && int.TryParse(file[..^4], NumberStyles.None, CultureInfo.InvariantCulture, out var n) ? n : 0;
        return FileAsync(context, of + "-" + file, "image/svg+xml", picture(number) ?? throw new RefusedRequestException(StatusCodes.Status404NotFound, "serve.nothing_here"));
    }

    /// <summary>A file to take away.</summary>
    internal static Task FileAsync(HttpContext context, string name, string type, string text)
    {
        context.Response.Headers.ContentDisposition = "attachment; filename=\"" + name + "\"";
        return Answers.BytesAsync(context, StatusCodes.Status200OK, type, Encoding.UTF8.GetBytes(text));
    }
}

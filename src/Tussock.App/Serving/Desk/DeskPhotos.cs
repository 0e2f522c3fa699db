using Microsoft.AspNetCore.Http;
using Tussock.Exchange.Photos;
using Tussock.Store.Media;

namespace Tussock.App.Serving.Desk;

/// <summary>Photos and views of them, small and large. A view is made when it is first asked for, and kept beside the originals.</summary>
internal sealed class DeskPhotos(MediaStore media)
{
    internal const string Path = "/photos/";
    private const string SmallView = "/small";
    private const string LargeView = "/large";

    /// <summary>Pixels of the longer side of a large view: pencil on a sheet can be read.</summary>
    private const int LargeSide = 2400;

    internal async Task AnswerAsync(HttpContext context, string asked)
    {
        var view = new[] { SmallView, LargeView }.FirstOrDefault(v => asked.EndsWith(v, StringComparison.Ordinal));
        var hash = asked[..^(view?.Length ?? 0)];
        if (media.PathOf(hash) is not { } path) throw new RefusedRequestException(StatusCodes.Status404NotFound, "desk.no_photo");
        if (view is not null)
        {
            await Answers.BytesAsync(context, StatusCodes.Status200OK, "image/jpeg", KeptViews.Of(path, view.TrimStart('/'), view == SmallView ? SmallPicture.LargestSide : LargeSide) ?? throw new RefusedRequestException(StatusCodes.Status404NotFound, "desk.no_photo"));
            return;
        }

        // The original is handed out to be kept, never to be run as a page of ours.
        context.Response.Headers.ContentDisposition = "attachment; filename=\"" + hash[..16] + Ending(path) + "\"";
        await Answers.BytesAsync(context, StatusCodes.Status200OK, "application/octet-stream", await File.ReadAllBytesAsync(path, context.RequestAborted));
    }

    /// <summary>The usual ending of the file's name, by its first bytes.</summary>
    private static string Ending(string path)
    {
        Span<byte> first = stackalloc byte[12];
        using var stream = File.OpenRead(path);
        var count = stream.Read(first);
        return first[..count] switch
        {
            [0xFF, 0xD8, ..] => ".jpg",
            [0x89, (byte)'P', ..] => ".png",
            [_, _, _, _, (byte)'f', (byte)'t', (byte)'y', (byte)'p', (byte)'h', ..] => ".heic",
            _ => "",
        };
    }
}

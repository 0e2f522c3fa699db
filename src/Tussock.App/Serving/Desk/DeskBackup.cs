using System.Globalization;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Http.Features;
using Tussock.App.Commands;
using Tussock.Desk.Pages;
using Tussock.Store.Media;

namespace Tussock.App.Serving.Desk;

/// <summary>The backup as a page, and as a download that is made while it goes out.</summary>
internal sealed class DeskBackup(ServedSeason served, MediaStore media)
{
    /// <summary>One at a time: each lays a copy of the data file beside it while it is made.</summary>
    private int making;

    internal (Type, Dictionary<string, object?>, int) Page() => (typeof(BackupPage), new() { ["Seasons"] = served.File.Seasons().Length, ["Changes"] = served.File.Position, ["Photos"] = media.All().Count }, StatusCodes.Status200OK);

    internal async Task HandOutAsync(HttpContext context)
    {
        if (Interlocked.Exchange(ref making, 1) != 0) throw new RefusedRequestException(StatusCodes.Status429TooManyRequests, "desk.backup_busy");
        try
        {
            var now = served.Clock.GetUtcNow();
            context.Response.ContentType = "application/zip";
            context.Response.Headers.ContentDisposition = "attachment; filename=\"tussock-backup-" + now.UtcDateTime.ToString("yyyyMMdd-HHmm", CultureInfo.InvariantCulture) + ".zip\"";
            context.Features.Get<IHttpBodyControlFeature>()!.AllowSynchronousIO = true;
            await Task.Run(() => served.File.BackUp(context.Response.Body, now, SharedOptions.Version, context.RequestAborted), context.RequestAborted);
        }
        catch when (context.Response.HasStarted)
        {
            // An answer that merely ended would look like a whole file.
            context.Abort();
        }
        catch
        {
            context.Response.Clear();
            Doorkeeper.Protect(context.Response);
            throw;
        }
        finally
        {
            Volatile.Write(ref making, 0);
        }
    }
}

using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Logging;
using Tussock.App.Serving.People;
using Tussock.Fieldwork;
using Tussock.Store;
using Tussock.Store.Media;

namespace Tussock.App.Serving;

/// <summary>The web server that a phone talks to: a handful of addresses, each looked up by name; everything else is the desk's, behind its gate.</summary>
internal sealed class FieldServer(ServedSeason served, FieldApi api, Doorkeeper door, RootPage rootPage, DeskGate desk)
{
    private const string ApiPath = "/field/api/";
    private const string MediaPath = ApiPath + "media/";
    private const int MostConnections = 200;
    private readonly FieldPages pages = new();

    /// <summary>Makes the server; it listens once it is started.</summary>
    internal WebApplication Make(Action<KestrelServerOptions> listen)
    {
        var builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.Logging.ClearProviders();
        builder.WebHost.UseKestrelCore().UseKestrelHttpsConfiguration().ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = FieldBundle.MediaBytes + 1024;
            kestrel.Limits.MaxConcurrentConnections = MostConnections;
            // A phone at the edge of a network stalls; it is cut off only when hardly anything comes for a while.
            kestrel.Limits.MinRequestBodyDataRate = new MinDataRate(100, TimeSpan.FromSeconds(20));
            listen(kestrel);
        });
        builder.Services.AddAntiforgery(o => (o.Cookie.SameSite, o.Cookie.SecurePolicy) = (SameSiteMode.Strict, CookieSecurePolicy.SameAsRequest));
        SignIn.Add(builder.Services);
        // Keys live as long as the process: a start of the desk signs everybody out, and nothing on the disk could sign anybody in.
        builder.Services.AddDataProtection().UseEphemeralDataProtectionProvider();
        var app = builder.Build();
        app.Run(AnswerAsync);
        return app;
    }

    private async Task AnswerAsync(HttpContext context)
    {
        Doorkeeper.Protect(context.Response);
        try
        {
            door.Check(context);
            await RouteAsync(context);
        }
        catch (RefusedRequestException refused)
        {
            await WhyAsync(context, refused.Status, served.Words.Say(refused.Why));
        }
        catch (Microsoft.AspNetCore.Http.BadHttpRequestException broken)
        {
            await WhyAsync(context, broken.StatusCode, served.Words.Say("serve.broken_request"));
        }
        catch (DataFileException fault)
        {
            served.Say(fault.Problem.What);
            await WhyAsync(context, StatusCodes.Status503ServiceUnavailable, served.Words.Say(fault.Problem.What));
        }
        catch (IOException)
        {
            // A full disk, or a connection that was cut in the middle: what is on disk is whole.
            await WhyAsync(context, StatusCodes.Status503ServiceUnavailable, served.Words.Say("serve.disk"));
        }
        catch (OperationCanceledException)
        {
            // The phone has gone; nobody is left to answer.
            context.Abort();
        }
#pragma warning disable CA1031 // The outer edge: whatever is left is a fault of the program. It is said, and the server goes on.
        catch (Exception fault)
#pragma warning restore CA1031
        {
            served.Fault?.Invoke(FaultAnswer.Told(fault, WhoMay.Named(context.Request.Method, context.Request.Path.Value ?? "")));
            await FaultAnswer.AnswerAsync(context, served.Words);
        }
    }

    private static Task WhyAsync(HttpContext context, int status, string why) => context.Response.HasStarted ? Task.CompletedTask : Answers.WhyAsync(context, status, why);

    private Task RouteAsync(HttpContext context)
    {
        var path = context.Request.Path.Value ?? "";
        if (!context.Request.IsHttps && (path is "/root" or "/root.crt" || !Doorkeeper.IsLoopback(context.Request.Host.Host) || !served.IsLoopbackOnly)) return rootPage.AnswerAsync(context);
        var method = context.Request.Method;
        if (path.StartsWith(ApiPath, StringComparison.Ordinal)) return Api(context, method, path);
        if (path != "/field" && !path.StartsWith("/field/", StringComparison.Ordinal)) return desk.AnswerAsync(context);
        if (!HttpMethods.IsGet(method) && !HttpMethods.IsHead(method)) throw new RefusedRequestException(StatusCodes.Status404NotFound, "serve.nothing_here");
        if (path == "/field")
        {
            context.Response.Redirect("/field/");
            return Task.CompletedTask;
        }

        return FileAsync(context, path);
    }

    private async Task FileAsync(HttpContext context, string path)
    {
        const string Field = "/field/";
        if (!path.StartsWith(Field, StringComparison.Ordinal) || !await pages.AnswerAsync(context, path[Field.Length..])) throw new RefusedRequestException(StatusCodes.Status404NotFound, "serve.nothing_here");
    }

    private Task Api(HttpContext context, string method, string path) => (method, path) switch
    {
        ("GET", ApiPath + "bundle") => api.BundleAsync(context),
        ("GET", ApiPath + "practice") => api.PracticeAsync(context),
        ("POST", ApiPath + "sync") => api.SyncAsync(context),
        ("POST", ApiPath + "pair") => api.PairAsync(context),
        ("HEAD", _) when Hash(path) is { } hash => api.MediaHeadAsync(context, hash),
        ("PATCH", _) when Hash(path) is { } hash => api.MediaPatchAsync(context, hash),
        _ => throw new RefusedRequestException(StatusCodes.Status404NotFound, "serve.nothing_here"),
    };

    private static string? Hash(string path) => path.StartsWith(MediaPath, StringComparison.Ordinal) && MediaStore.IsHash(path[MediaPath.Length..]) ? path[MediaPath.Length..] : null;
}

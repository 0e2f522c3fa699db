using System.Net;
using Microsoft.AspNetCore.Http;

namespace Tussock.App.Serving;

/// <summary>Looks at a request before anything else does: the name it was sent to, the page it was sent from, and what every answer carries.</summary>
/// <remarks>A page on the internet may let its own name point at this machine; its requests then come under that name, which is not one of ours.</remarks>
internal sealed class Doorkeeper(IReadOnlySet<string> hosts)
{
    private const string OwnPictures = "'self' blob: data:";
    private const string Policy = "default-src 'self'; img-src " + OwnPictures + "; media-src 'self' blob:; connect-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'";

    /// <summary>Whether a name means this machine to itself.</summary>
    internal static bool IsLoopback(string host) => host.Equals("localhost", StringComparison.OrdinalIgnoreCase) || (IPAddress.TryParse(host.Trim('[', ']'), out var address) && IPAddress.IsLoopback(address));

    /// <summary>Lets one page show pictures of another machine too.</summary>
    internal static void LetPictures(HttpResponse response, string origin) => response.Headers.ContentSecurityPolicy = Policy.Replace(OwnPictures, OwnPictures + " " + origin, StringComparison.Ordinal);

    internal static void Protect(HttpResponse response)
    {
        var headers = response.Headers;
        headers.ContentSecurityPolicy = Policy;
        headers.XContentTypeOptions = "nosniff";
        headers.CacheControl = "no-store";
        // Under "no-referrer" a browser says Origin: null even to us, and our own forms could not be told from another's.
        headers["Referrer-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Permissions-Policy"] = "geolocation=(self), camera=(self), microphone=(self), accelerometer=(self), gyroscope=(self), magnetometer=(self)";
    }

    /// <summary>Refuses a request that was sent to another's name or from another's page.</summary>
    /// <exception cref="RefusedRequestException">It was.</exception>
    internal void Check(HttpContext context)
    {
        var host = context.Request.Host;
        // A port that no machine has makes a name that no page of ours could lead to.
        if (!host.HasValue || host.Port > ushort.MaxValue || !IsOurs(host.Host, context.Connection.LocalIpAddress)) throw new RefusedRequestException(StatusCodes.Status421MisdirectedRequest, "serve.other_host");
        var origin = context.Request.Headers.Origin;
        if (origin.Count > 0 && origin != context.Request.Scheme + "://" + host.Value) throw new RefusedRequestException(StatusCodes.Status403Forbidden, "serve.other_origin");
    }

    private bool IsOurs(string host, IPAddress? local) =>
        IsLoopback(host) || hosts.Contains(host) || (local is not null && IPAddress.TryParse(host.Trim('[', ']'), out var address) && address.Equals(local.IsIPv4MappedToIPv6 ? local.MapToIPv4() : local));
}

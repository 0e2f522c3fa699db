using Microsoft.AspNetCore.Http;

namespace Tussock.App.Serving.Desk;

/// <summary>A choice of how pages look that one browser keeps in a cookie, made by a small form at the top of every page.</summary>
internal static class KeptChoice
{
    private const int MostBytes = 4096;
    private const int LongestAddress = 1000;

    /// <summary>What was chosen in this browser; null where nothing was.</summary>
    internal static string? Of(HttpContext context, string name) => context.Request.Cookies[name] is { Length: > 0 and < 12 } chosen ? chosen : null;

    /// <summary>Remembers a choice and goes back to where it was made.</summary>
    /// <param name="context">The form.</param>
    /// <param name="name">Name of the cookie.</param>
    /// <param name="known">The choice that a text means; null for one that is none, which changes nothing.</param>
    internal static async Task TakeAsync(HttpContext context, string name, Func<string, string?> known)
    {
        var form = await DeskRendering.FormAsync(context, MostBytes);
        if (form is null) throw new RefusedRequestException(StatusCodes.Status400BadRequest, "desk.forged");
        if (known(form["to"].ToString()) is { } chosen) context.Response.Cookies.Append(name, chosen, new CookieOptions { HttpOnly = true, IsEssential = true, SameSite = SameSiteMode.Strict, Secure = context.Request.IsHttps, Path = "/", MaxAge = TimeSpan.FromDays(400) });
        DeskRendering.See(context, Here(form["back"].ToString()));
    }

    /// <summary>The address of a page with what was asked of it, so that an answer is shown again and not lost; without the word that something was saved just now.</summary>
    internal static string Back(HttpRequest request)
    {
        var path = request.Path.Value ?? "/";
        var whole = path + request.QueryString.Value;
        return HttpMethods.IsGet(request.Method) && !request.Query.ContainsKey("saved") && Here(whole) == whole ? whole : path;
    }

    /// <summary>An address of this desk; two slashes at its beginning would lead to another's.</summary>
    private static string Here(string back) => back.Length is > 0 and < LongestAddress && back[0] == '/' && (back.Length == 1 || back[1] is not ('/' or '\\')) && !back.Any(char.IsControl) && back.All(char.IsAscii) ? back : "/";
}

using Microsoft.AspNetCore.Http;
using Tussock.Words;

namespace Tussock.App.Serving.Desk;

/// <summary>The language in which the desk speaks to one browser: what was chosen there, else the desk's own.</summary>
internal static class SpokenLanguage
{
    internal const string Path = "/language";

    private const string Cookie = "language";
    private const int MostBytes = 4096;

    internal static Catalogue Of(HttpContext context, Catalogue usual) =>
        context.Request.Cookies[Cookie] is { Length: > 0 and < 12 } chosen && Catalogue.Of(chosen) is { } words ? words : usual;

    /// <summary>Remembers a choice and goes back to where it was made.</summary>
    internal static async Task ChooseAsync(HttpContext context)
    {
        var form = await DeskRendering.FormAsync(context, MostBytes);
        if (form is null) throw new RefusedRequestException(StatusCodes.Status400BadRequest, "desk.forged");
        if (Catalogue.Of(form["to"].ToString()) is { } words) context.Response.Cookies.Append(Cookie, words.Language, new CookieOptions { HttpOnly = true, IsEssential = true, SameSite = SameSiteMode.Strict, Secure = context.Request.IsHttps, Path = "/", MaxAge = TimeSpan.FromDays(400) });
        DeskRendering.See(context, Here(form["back"].ToString()));
    }

    /// <summary>An address of this desk; two slashes at its beginning would lead to another's.</summary>
    private static string Here(string back) => back.Length is > 0 and < 1000 && back[0] == '/' && (back.Length == 1 || back[1] is not ('/' or '\\')) && !back.Any(char.IsControl) && back.All(char.IsAscii) ? back : "/";
}

using Microsoft.AspNetCore.Http;
using Tussock.Words;

namespace Tussock.App.Serving.Desk;

/// <summary>The language in which the desk speaks to one browser: what was chosen there, else the desk's own.</summary>
internal static class SpokenLanguage
{
    internal const string Path = "/language";

    private const string Cookie = "language";

    internal static Catalogue Of(HttpContext context, Catalogue usual) => KeptChoice.Of(context, Cookie) is { } chosen && Catalogue.Of(chosen) is { } words ? words : usual;

    internal static Task ChooseAsync(HttpContext context) => KeptChoice.TakeAsync(context, Cookie, to => Catalogue.Of(to)?.Language);
}

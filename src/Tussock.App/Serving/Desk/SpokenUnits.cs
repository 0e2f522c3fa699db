using Microsoft.AspNetCore.Http;
using Tussock.Words;

namespace Tussock.App.Serving.Desk;

/// <summary>The units in which pages of the desk say amounts to one browser: what was chosen there, else both. What is printed, kept or handed out as data says both, or has the unit that its format names.</summary>
internal static class SpokenUnits
{
    internal const string Path = "/units";

    private const string Cookie = "units";

    internal static Catalogue Of(HttpContext context, Catalogue words) => words.In(KeptChoice.Of(context, Cookie) is { } chosen && UnitWords.Of(chosen) is { } units ? units : UnitChoice.Both);

    internal static Task ChooseAsync(HttpContext context) => KeptChoice.TakeAsync(context, Cookie, to => UnitWords.Of(to)?.Token());
}

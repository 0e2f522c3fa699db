using System.Net;
using System.Text.RegularExpressions;

namespace Tussock.Edges.Tests.Reports;

/// <summary>What a reader reads of an HTML file: its body without markup, pictures' words among it or not.</summary>
internal static partial class PageText
{
    internal static string Of(string html) => Plain(html[html.IndexOf("<body>", StringComparison.Ordinal)..]);

    internal static string WithoutPictures(string html) => Plain(Picture().Replace(html[html.IndexOf("<body>", StringComparison.Ordinal)..], " "));

    internal static string[] Words(string text) => text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries);

    private static string Plain(string html) => WebUtility.HtmlDecode(Tag().Replace(html, " "));

    [GeneratedRegex("<svg.*?</svg>", RegexOptions.Singleline, 10_000)]
    private static partial Regex Picture();

    [GeneratedRegex("<[^>]*>", RegexOptions.None, 10_000)]
    private static partial Regex Tag();
}

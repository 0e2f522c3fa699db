using System.Text;

namespace Tussock.Reports.Print;

/// <summary>A whole HTML file: fonts, styles and pictures inside, nothing from outside, no script.</summary>
internal static class Sheet
{
    /// <summary>Everything that a page may load is in it; a browser that keeps to this policy asks nobody for anything.</summary>
    private const string Policy = "default-src 'none'; style-src 'unsafe-inline'; font-src data:; img-src data:; base-uri 'none'; form-action 'none'";

    private const string Latin = "U+0000-00FF,U+0131,U+0152-0153,U+02BB-02BC,U+02C6,U+02DA,U+02DC,U+0304,U+0308,U+0329,U+2000-206F,U+20AC,U+2122,U+2191,U+2193,U+2212,U+2215,U+FEFF,U+FFFD";
    private const string LatinExtended = "U+0100-02BA,U+02BD-02C5,U+02C7-02CC,U+02CE-02D7,U+02DD-02FF,U+0304,U+0308,U+0329,U+1D00-1DBF,U+1E00-1E9F,U+1EF2-1EFF,U+2020,U+20A0-20AB,U+20AD-20C4,U+2113,U+2C60-2C7F,U+A720-A7FF";

    private static readonly Lazy<string> Fonts = new(() =>
        Face("400-normal", 400, "normal") + Face("600-normal", 600, "normal") + Face("400-italic", 400, "italic"));

    /// <summary>The font of a printed page's foot, which the browser lays out apart from the page.</summary>
    internal static string FooterFont => FaceOf("latin-400-normal", 400, "normal", Latin);

    /// <summary>Puts a body into a file.</summary>
    /// <param name="title">Title of the document.</param>
    /// <param name="language">Language code.</param>
    /// <param name="style">Name of the style sheet beside the one that all pages share.</param>
    /// <param name="body">The body as HTML.</param>
    internal static string Of(string title, string language, string style, string body) =>
        "<!DOCTYPE html>\n<html lang=\"" + Html.Escaped(language) + "\">\n<head>\n<meta charset=\"utf-8\">\n<meta http-equiv=\"Content-Security-Policy\" content=\"" + Policy + "\">\n"
        + "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>" + Html.Escaped(title) + "</title>\n<style>\n" + Fonts.Value + Resource("styles/shared.css") + Resource("styles/" + style + ".css")
        + "</style>\n</head>\n<body>\n" + body + "</body>\n</html>\n";

    /// <summary>Text of an embedded file.</summary>
    internal static string Resource(string name) => Encoding.UTF8.GetString(Bytes(name)).ReplaceLineEndings("\n");

    private static string Face(string file, int weight, string slant) => FaceOf("latin-ext-" + file, weight, slant, LatinExtended) + FaceOf("latin-" + file, weight, slant, Latin);

    private static string FaceOf(string file, int weight, string slant, string range) =>
        "@font-face{font-family:\"Source Sans 3\";font-style:" + slant + ";font-weight:" + Words.Numbers.Whole(weight) + ";unicode-range:" + range
        + ";src:url(data:font/woff2;base64," + Convert.ToBase64String(Bytes("fonts/source-sans-3-" + file + ".woff2")) + ") format(\"woff2\");}\n";

    private static byte[] Bytes(string name)
    {
        using var stream = typeof(Sheet).Assembly.GetManifestResourceStream(name) ?? throw new ArgumentException("No embedded file " + name, nameof(name));
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }
}

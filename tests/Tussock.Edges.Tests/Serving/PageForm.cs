using System.Net;
using System.Text.RegularExpressions;

namespace Tussock.Edges.Tests.Serving;

/// <summary>A form of a page, as a browser without scripts would send it.</summary>
internal static partial class PageForm
{
    /// <summary>The fields of the form whose tag holds a text; no radio is pressed, no file chosen.</summary>
    internal static Dictionary<string, string> Fields(string page, string tag = "class=\"record\"")
    {
        var form = page[page.IndexOf(tag, StringComparison.Ordinal)..];
        form = form[..form.IndexOf("</form>", StringComparison.Ordinal)];
        var fields = Input().Matches(form).Where(m => !m.Value.Contains("type=\"radio\"", StringComparison.Ordinal) && !m.Value.Contains("type=\"file\"", StringComparison.Ordinal)).ToDictionary(m => m.Groups["name"].Value, m => WebUtility.HtmlDecode(m.Groups["value"].Value), StringComparer.Ordinal);
        foreach (Match text in Area().Matches(form)) fields[text.Groups["name"].Value] = WebUtility.HtmlDecode(text.Groups["value"].Value);
        foreach (Match select in Select().Matches(form)) fields[select.Groups["name"].Value] = Selected().Match(select.Groups["options"].Value).Groups["value"].Value;
        return fields;
    }

    /// <summary>The fields of all forms of a page, the last of each name; what is pressed in none is not there.</summary>
    internal static Dictionary<string, string> All(string page)
    {
        var fields = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var form in page.Split("<form ").Skip(1)) foreach (var (name, value) in Fields(form, "")) fields[name] = value;
        return fields;
    }

    [GeneratedRegex("<input [^>]*?name=\"(?<name>[^\"]*)\"(?:[^>]*? value=\"(?<value>[^\"]*)\")?[^>]*>")]
    private static partial Regex Input();

    [GeneratedRegex("<textarea [^>]*?name=\"(?<name>[^\"]*)\"[^>]*>(?<value>[^<]*)</textarea>")]
    private static partial Regex Area();

    [GeneratedRegex("<select [^>]*?name=\"(?<name>[^\"]*)\"[^>]*>(?<options>.*?)</select>", RegexOptions.Singleline)]
    private static partial Regex Select();

    [GeneratedRegex("<option value=\"(?<value>[^\"]*)\" selected")]
    private static partial Regex Selected();
}

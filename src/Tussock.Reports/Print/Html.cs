using System.Text;
using Tussock.Results;
using Tussock.Words;

namespace Tussock.Reports.Print;

/// <summary>Writes HTML: every text is escaped, only pictures of the core come in as they are.</summary>
internal sealed class Html(Catalogue words)
{
    private readonly StringBuilder body = new();

    internal Catalogue Words => words;

    /// <summary>Opens an element.</summary>
    internal Html Open(string tag, string attributes = "")
    {
        body.Append('<').Append(tag);
        if (attributes.Length > 0) body.Append(' ').Append(attributes);
        body.Append('>');
        return this;
    }

    internal Html Close(string tag)
    {
        body.Append("</").Append(tag).Append(">\n");
        return this;
    }

    internal Html Text(string text)
    {
        body.Append(Escaped(text));
        return this;
    }

    /// <summary>An element with text.</summary>
    internal Html Element(string tag, string text, string attributes = "") => Open(tag, attributes).Text(text).Close(tag);

    internal Html Element(string tag, Phrase phrase, string attributes = "") => Element(tag, words.Say(phrase), attributes);

    /// <summary>A paragraph; nothing where there is no sentence.</summary>
    internal Html Paragraph(Phrase? phrase, string attributes = "") => phrase is null ? this : Element("p", Sentences.Sentence(words.Say(phrase)), attributes);

    internal Html Heading(int level, string key, string attributes = "") => Element(level == 1 ? "h1" : level == 2 ? "h2" : "h3", words.Say(key), attributes);

    /// <summary>A picture of the core, already SVG.</summary>
    internal Html Picture(string svg, string attributes = "class=\"picture\"") => Raw("<figure " + attributes + ">" + svg + "</figure>\n");

    internal Html List(IEnumerable<string> items, string attributes = "")
    {
        var all = items.Where(i => i.Length > 0).ToArray();
        if (all.Length == 0) return this;
        Open("ul", attributes);
        foreach (var item in all) Element("li", item);
        return Close("ul");
    }

    internal Html Raw(string html)
    {
        body.Append(html);
        return this;
    }

    internal string Say(Phrase phrase) => words.Say(phrase);

    public override string ToString() => body.ToString();

    /// <summary>Text for HTML; controls that HTML cannot hold become a blank.</summary>
    internal static string Escaped(string text)
    {
        var safe = new StringBuilder(text.Length);
        foreach (var rune in text.EnumerateRunes())
        {
            safe.Append(rune.Value switch
            {
                '&' => "&amp;",
                '<' => "&lt;",
                '>' => "&gt;",
                '"' => "&quot;",
                '\'' => "&#39;",
                < 0x20 or 0x7F or 0xFFFE or 0xFFFF => " ",
                _ => rune.ToString(),
            });
        }

        return safe.ToString();
    }
}

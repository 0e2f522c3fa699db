using System.Text;

namespace Tussock.Exchange.Calendar;

/// <summary>Lines of an iCalendar file: folded at 75 octets between letters, ended by CRLF, texts escaped.</summary>
/// <source>RFC 5545, sections 3.1 and 3.3.11.</source>
internal sealed class CalendarText
{
    private const int MostOctets = 75;
    private readonly StringBuilder text = new();

    /// <summary>Adds a property whose value is no text.</summary>
    internal void Line(string name, string value)
    {
        var octets = 0;
        foreach (var rune in (name + ":" + value).EnumerateRunes())
        {
            if (octets + rune.Utf8SequenceLength > MostOctets)
            {
                text.Append("\r\n ");
                octets = 1;
            }

            text.Append(rune.ToString());
            octets += rune.Utf8SequenceLength;
        }

        text.Append("\r\n");
    }

    /// <summary>Adds a property whose value is a text.</summary>
    internal void Text(string name, string value) => Line(name, Escaped(value));

    /// <summary>Backslash, semicolon, comma and line end as the standard writes them inside a text; other control characters have no place there.</summary>
    internal static string Escaped(string value)
    {
        var escaped = new StringBuilder(value.Length);
        foreach (var c in value.ReplaceLineEndings("\n"))
        {
            if (c is '\\' or ';' or ',') escaped.Append('\\').Append(c);
            else if (c == '\n') escaped.Append("\\n");
            else if (!char.IsControl(c) || c == '\t') escaped.Append(c);
        }

        return escaped.ToString();
    }

    /// <inheritdoc/>
    public override string ToString() => text.ToString();
}
